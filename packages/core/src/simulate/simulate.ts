import { log } from '../arithmetic/exponential.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { type Setup, setupFrom, type SimulationConditions } from './conditions.ts';
import { expectedCounts } from './expected.ts';
import { originEntries } from './origin.ts';
import { bend } from './perturb.ts';
import { poisson } from './poisson.ts';
import { randomStream } from './random.ts';
import { rebin } from './rebin.ts';
import { bodyOf, describe, type Specimen } from './specimen.ts';

const NOISE = 0;

/**
 * The spectrum that a specimen would give under a beam at normal incidence: same input, same counts. It says in title and
 * header that it is simulated, and states the axis it was asked for, whatever a perturbation did to the true one.
 * Left out: charging, contamination that grows under the beam, scattered electrons and X-rays from the surroundings, tilt,
 * Bragg peaks, losses of alkalis, satellites other than radiative Auger (bends of `perturb` have some), escape of what piled up, sums within windows that sums prolong, tails of the continuum.
 * Grains are a stated approximation (emission/body.ts).
 * @throws RangeError for conditions or bodies, SyntaxError for a formula that makes no sense
 */
export function simulate(specimen: Specimen, conditions: SimulationConditions): Spectrum {
  const setup = setupFrom(conditions);
  const body = bodyOf(specimen);
  const { counts, realTimeS } = expectedCounts(
    body,
    setup,
    bend(conditions.perturb, setup.detector, setup.counted.axis),
  );
  const expected = rounded(counts);
  const { seed } = conditions;
  const random = seed === null ? null : randomStream(seed, NOISE);
  const drawn = random === null ? expected : expected.map((mean) => poisson(mean, random));
  return {
    source: { name: 'simulated', sha256: '' },
    title: `SIMULATED ${specimen.title ?? describe(specimen)}`.trim(),
    counts:
      conditions.countedOn === undefined
        ? drawn
        : rebin(drawn, setup.counted.axis, setup.axis, setup.channels, random !== null),
    axis: setup.axis,
    beamKev: conditions.beamKev,
    liveTimeS: setup.liveTimeS,
    realTimeS,
    probeCurrentNa: conditions.probeCurrentNa ?? null,
    takeOffDeg: setup.takeOffDeg,
    detector: detectorHeader(setup),
    header: originEntries(body, setup, conditions),
    warnings: [],
  };
}

/** Decimals of the expected counts, as parts of the highest channel. */
const DECIMALS = 10;

/**
 * Expected counts to some 1e-10 of the highest channel: far below all noise, short as text, and rid of the last bits in which
 * the elementary functions of one machine differ from another's.
 */
function rounded(counts: Float64Array): Float64Array {
  const most = counts.reduce((a, b) => Math.max(a, b), 0);
  let scale = 1;
  for (let digits = Math.ceil(log(most) / Math.LN10); digits < DECIMALS && most > 0; digits++) scale *= 10;
  return counts.map((value) => Math.round(value * scale) / scale);
}

/** Thickness in cm, without digits that only come from changing the unit. */
const inCm = (value: number, unitCm: number): number => Number((value * unitCm).toPrecision(6));
const [UM, NM, MM] = [1e-4, 1e-7, 0.1];

function detectorHeader({ detector }: Setup): Spectrum['detector'] {
  const { window, windowUm, aluminiumNm, contact, contactNm, deadLayerUm, thicknessMm } = detector;
  const film = window === 'polymer' || window === 'silicon-nitride';
  const contactOf = (metal: typeof contact): number | null =>
    contact === metal && contactNm > 0 ? inCm(contactNm, NM) : null;
  return {
    type: { polymer: 'SIUTW', 'silicon-nitride': 'SIUTW', beryllium: 'SIBEW', none: 'SIWLS' }[window],
    berylliumWindowCm: window === 'beryllium' ? inCm(windowUm, UM) : null,
    aluminiumLayerCm: film ? inCm(aluminiumNm, NM) : contactOf('aluminium'),
    goldLayerCm: contactOf('gold'),
    deadLayerCm: inCm(deadLayerUm, UM),
    activeLayerCm: inCm(thicknessMm, MM),
    windowCm: film ? inCm(windowUm, UM) : null,
  };
}
