import type { HeaderEntry, Spectrum } from '../spectrum/spectrum.ts';
import { compositionOf, type Setup, setupFrom, type SimulationConditions, type Specimen } from './conditions.ts';
import { expectedCounts } from './expected.ts';
import { bend } from './perturb.ts';
import { poisson } from './poisson.ts';
import { randomStream } from './random.ts';

/** Keyword of our own that marks a spectrum as not measured. */
export const ORIGIN_KEY = '##LIMNER-ORIGIN';

const NOISE = 0;

/**
 * The spectrum that a thick, flat specimen would give: same input, same counts. It says in title and header that it is
 * simulated, and states the axis it was asked for, whatever a perturbation did to the true one.
 * Left out: fluorescence by other lines, radiative Auger satellites, the detector's own Si peak, coatings, charging.
 * @throws RangeError for conditions, SyntaxError for a formula that makes no sense
 */
export function simulate(specimen: Specimen, conditions: SimulationConditions): Spectrum {
  const setup = setupFrom(conditions);
  const composition = compositionOf(specimen);
  const expected = expectedCounts(composition, setup, bend(conditions.perturb, setup.detector, setup.axis));
  const { seed } = conditions;
  const random = seed === null ? null : randomStream(seed, NOISE);
  return {
    source: { name: 'simulated', sha256: '' },
    title: `SIMULATED ${specimen.title ?? describe(specimen)}`.trim(),
    counts: random === null ? expected : expected.map((mean) => poisson(mean, random)),
    axis: setup.axis,
    beamKev: conditions.beamKev,
    liveTimeS: conditions.liveTimeS ?? null,
    realTimeS: null,
    probeCurrentNa: conditions.probeCurrentNa ?? null,
    takeOffDeg: setup.takeOffDeg,
    detector: detectorHeader(setup),
    header: originEntries(seed),
    warnings: [],
  };
}

function describe({ composition }: Specimen): string {
  return typeof composition === 'string' ? composition : '';
}

function originEntries(seed: number | null): HeaderEntry[] {
  const noise = seed === null ? 'expected counts without noise' : `Poisson noise, seed ${seed}`;
  return [
    { key: 'COMMENT', unit: '', value: `Simulated, not measured: ${noise}` },
    { key: ORIGIN_KEY, unit: '', value: 'simulated' },
  ];
}

/** Thickness in cm, without digits that only come from changing the unit. */
const inCm = (value: number, unitCm: number): number => Number((value * unitCm).toPrecision(6));
const [UM, NM, MM] = [1e-4, 1e-7, 0.1];

function detectorHeader({ detector }: Setup): Spectrum['detector'] {
  const { window, windowUm, aluminiumNm, deadLayerUm, thicknessMm } = detector;
  const film = window === 'polymer' || window === 'silicon-nitride';
  return {
    type: { polymer: 'SIUTW', 'silicon-nitride': 'SIUTW', beryllium: 'SIBEW', none: 'SIWLS' }[window],
    berylliumWindowCm: window === 'beryllium' ? inCm(windowUm, UM) : null,
    aluminiumLayerCm: film ? inCm(aluminiumNm, NM) : null,
    goldLayerCm: null,
    deadLayerCm: inCm(deadLayerUm, UM),
    activeLayerCm: inCm(thicknessMm, MM),
    windowCm: film ? inCm(windowUm, UM) : null,
  };
}
