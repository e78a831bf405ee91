import { LINE_TABLE, lineAt } from '../atomic/lines.ts';
import { edgeEv } from '../atomic/shells.ts';
import type { Column } from './column.ts';
import { lineResponse, type Instrument } from './instrument.ts';
import { addGaussian } from './peak-shape.ts';
import { lifted, slate } from './slate.ts';

/**
 * Radiative-Auger bands, broad bumps below a K line: part of the decay energy goes to an outer electron.
 * KLL, below K alpha: centre E - 1.7 E(L3), width 0.4 E(L3) beside the resolution; measured 0.2 to 0.6 % of the line for Na to Ti.
 * KMM, below K beta: centre E - 1.3 E(M1), width 0.5 E(M1). Below K beta of Fe it looks like Co: with the band at 1.2 % of K beta three
 * steels without Co were left with Co of 0.3 to 0.6 % of Fe, with 2 ± 2 % with none.
 * Source: fits to measured silicates, carbonates and steels; the effect: T. Åberg, J. Utriainen, Phys. Rev. Lett. 22 (1969) 1346
 * (from memory).
 */
interface Band {
  readonly name: 'KLL' | 'KMM';
  /** Subshell index whose edge scales the band. */
  readonly subshell: number;
  readonly firstZ: number;
  readonly lastZ: number;
  /** Place below the line and standard deviation, in units of that edge. */
  readonly below: number;
  readonly spread: number;
  /** Counts per count of the parent line: what the template holds, and its standard uncertainty. */
  readonly fraction: number;
  readonly sigma: number;
}

const L3 = 3;
const M1 = 4;

const BANDS: readonly Band[] = [
  { name: 'KLL', subshell: L3, firstZ: 11, lastZ: 22, below: 1.7, spread: 0.4, fraction: 0.002, sigma: 0.006 },
  { name: 'KMM', subshell: M1, firstZ: 19, lastZ: 35, below: 1.3, spread: 0.5, fraction: 0.02, sigma: 0.02 },
];

/** A band of an element: expected counts per unit amount were it as strong as its parent lines themselves. */
export interface RadiativeAugerBand {
  readonly name: Band['name'];
  readonly column: Column;
  readonly fraction: number;
  readonly sigma: number;
}

/** The bands of an element. @param areas detected area of every line per unit amount, LINE_TABLE order  @param n channels */
export function radiativeAugerBands(
  z: number,
  areas: Float64Array,
  instrument: Instrument,
  n: number,
): RadiativeAugerBand[] {
  const bands: RadiativeAugerBand[] = [];
  for (const band of BANDS) {
    if (z < band.firstZ || z > band.lastZ) continue;
    const { name, fraction, sigma } = band;
    const column = bandColumn(z, band, areas, instrument, n);
    if (column.lo < column.hi) bands.push({ name, column, fraction, sigma });
  }
  return bands;
}

function bandColumn(
  z: number,
  { name, subshell, below, spread }: Band,
  areas: Float64Array,
  instrument: Instrument,
  n: number,
): Column {
  const edge = edgeEv(z, subshell);
  const out = slate(n);
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
    if (!(areas[i] > 0) || !isParent(lineAt(i).iupac, name)) continue;
    const { centreEv, sigmaEv } = lineResponse(instrument, LINE_TABLE.energyEv[i] - below * edge);
    addGaussian(out, instrument.axis, centreEv, Math.hypot(sigmaEv, spread * edge), areas[i]);
  }
  return lifted(out);
}

/** KLL bands lie below the K-L lines, KMM bands below the K-M lines. */
function isParent(iupac: string, name: Band['name']): boolean {
  return iupac.startsWith(name === 'KLL' ? 'K-L' : 'K-M');
}
