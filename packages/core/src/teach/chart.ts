import { LINE_TABLE, lineAt } from '../atomic/lines.ts';
import { priorPenalty, CANDIDATE_ELEMENTS } from '../identify/candidates.ts';
import { CLASH_DEFAULTS, fwhmFromMn } from '../peaks/clash.ts';
import { expectedLines, type ExpectedLine } from '../peaks/expected-strength.ts';
import { KNOWN_CLASHES } from '../pigments/knowledge.ts';

/** Two lines of two elements that lie close, and how much of them a spectrum shows. */
export interface ChartPair {
  readonly a: ExpectedLine;
  readonly b: ExpectedLine;
  readonly apartEv: number;
  /** Of the weaker line, as part of the strongest line that any of the elements has at this beam; 0..1. */
  readonly strength: number;
  /** Whether the pair is known from paint (data/pigments/clashes.csv). */
  readonly paint: boolean;
}

/** What goes on the wall chart. */
export interface ChartOptions {
  readonly beamKev: number;
  readonly withinEv: number;
  /** Most pairs; the strongest are kept, paint first. */
  readonly most: number;
}

/** Elements whose prior asks less chi-square than this are met in paint often enough for a wall chart (identify/candidates.ts). */
const COMMON_BELOW = 13;
/** Lines with less of the strongest line of their own element are left out. */
const LEAST_OF_OWN = 0.05;
/** Lines below this energy crowd at the noise edge, eV. */
const LOWEST_EV = 500;
/** Lines of one element closer than this part of the FWHM are one peak, as in peaks/clash.ts. */
const ONE_PEAK_FWHM = 0.25;

/** Line coincidences of the elements usual in paint: those known from paint first, then by the strength of the weaker line. */
export function chartPairs({ beamKev, withinEv, most }: ChartOptions): ChartPair[] {
  const lines = chartLines(1000 * beamKev).sort((a, b) => a.line.energyEv - b.line.energyEv);
  const strongest = Math.max(...lines.map(({ photons }) => photons));
  const found: ChartPair[] = [];
  lines.forEach((a, i) => {
    for (let j = i + 1; j < lines.length && lines[j].line.energyEv - a.line.energyEv <= withinEv; j++) {
      const b = lines[j];
      if (a.line.z === b.line.z) continue;
      const strength = Math.min(a.photons, b.photons) / strongest;
      found.push({ a, b, apartEv: b.line.energyEv - a.line.energyEv, strength, paint: isKnown(a, b) });
    }
  });
  return found
    .sort((p, q) => Number(q.paint) - Number(p.paint) || q.strength - p.strength || p.apartEv - q.apartEv)
    .slice(0, most)
    .sort((p, q) => Number(q.paint) - Number(p.paint) || p.a.line.energyEv - q.a.line.energyEv);
}

function chartLines(beamEv: number): ExpectedLine[] {
  const zs = CANDIDATE_ELEMENTS.filter((z) => priorPenalty(z) < COMMON_BELOW);
  return zs.flatMap((z) => {
    const lines = [];
    for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) lines.push(lineAt(i));
    const own = expectedLines(lines, beamEv).sort((p, q) => q.photons - p.photons);
    const seen = own.filter(
      ({ photons, line }) => photons > LEAST_OF_OWN * own[0].photons && line.energyEv >= LOWEST_EV,
    );
    return seen.filter((one, i) => !seen.slice(0, i).some((stronger) => isOnePeak(one, stronger)));
  });
}

const isOnePeak = (p: ExpectedLine, q: ExpectedLine): boolean =>
  Math.abs(p.line.energyEv - q.line.energyEv) < ONE_PEAK_FWHM * fwhmFromMn(q.line.energyEv, CLASH_DEFAULTS.fwhmMnEv);

/** Pairs of elements known from paint by any of their lines within a family. */
function isKnown(a: ExpectedLine, b: ExpectedLine): boolean {
  return KNOWN_CLASHES.some(
    ({ elementA, lineA, elementB, lineB }) =>
      (matches(a, elementA, lineA) && matches(b, elementB, lineB)) ||
      (matches(b, elementA, lineA) && matches(a, elementB, lineB)),
  );
}

const matches = ({ line }: ExpectedLine, symbol: string, iupac: string): boolean =>
  line.symbol === symbol && line.iupac === iupac;
