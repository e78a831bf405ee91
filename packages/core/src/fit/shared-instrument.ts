import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import {
  UNTAUGHT,
  type Believed,
  type InstrumentKnowledge,
  type RatioBelief,
  type SharedArtefact,
  type Taught,
} from '../model/instrument-knowledge.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import { DETECTOR_SILICON, SHELF } from './artefacts.ts';
import { USUAL } from './instrument-prior.ts';
import { pool, type Pool, type Said } from './pool.ts';

/** What one spectrum, read on its own, says of its instrument; priors taken out. Plain data. */
export interface InstrumentEstimate {
  /** The header's axis: offset and gain below are counted from it. */
  readonly header: EnergyAxis;
  /** Information (4 × 4, row-major) on offset (eV), gain (relative), noise (FWHM, eV) and Fano factor (relative to the default). */
  readonly information: readonly number[];
  /** Information times estimate. */
  readonly vector: readonly number[];
  readonly artefacts: readonly ArtefactEstimate[];
  readonly ratios: readonly RatioBelief[];
  readonly thickWindow: boolean;
  /** Counts per second of live time; null when the file gives none. */
  readonly rate: number | null;
}

export interface ArtefactEstimate {
  readonly name: SharedArtefact;
  readonly value: number;
  /** 1 / variance. */
  readonly information: number;
}

/** An estimate with the time it was taken at, -1 to 1 over the session; null when not known. */
export interface TimedEstimate {
  readonly estimate: InstrumentEstimate;
  readonly time: number | null;
}

/** Mean noise of an unknown detector and how far it may be off, FWHM, eV (common practice, no source: 120 to 150 eV at Mn K). */
const NOISE_START = { meanEv: DEFAULT_DETECTOR.noiseEv, sigmaEv: 30 };
/** Drift over half a session and scatter between spectra: offset eV, gain, noise eV, Fano (stable electronics; common practice, no source). */
const DRIFT_SIGMA = [5, 0.001, 3, 1e-6];
const SCATTER_START = [1, 3e-4, 1, 0.003];
const LEAST_SCATTER = [0.05, 1e-5, 0.05, 1e-4];
const MOST_SCATTER = [8, 3e-3, 10, 0.03];
/**
 * What averaging does not remove: the same lines stand in many spectra, each known to 1 eV and 0.8 % of its width. Offset eV, gain,
 * noise eV, Fano.
 */
const COMMON = [0.5, 1e-4, 1, 0.005];
/** Fewest spectra that make a session's instrument known. */
export const FEWEST_TO_SHARE = 3;
/** An estimate farther from the others than this (chi-square, 4 quantities: 1 in 10,000) is of another setting. */
const OUTLYING = 23.5;
const SIZE = 4;

/** An instrument as the spectra of a session tell it. */
export interface SharedInstrument {
  /** Estimates that the rest contradict, by their position. */
  readonly outlying: readonly number[];
  /** Scatter between spectra: offset eV, gain (relative), noise eV, Fano (relative). */
  readonly scatter: readonly number[];
  /** What is known for a spectrum taken at this time, from all estimates but that at the position `own`. Null: too few. */
  knowledge(time: number | null, rate: number | null, own?: number): InstrumentKnowledge | null;
}

/**
 * Pools what the spectra of a session say about their instrument: mean, drift in time and scatter.
 * @param estimates one per spectrum that can tell, with its time
 * @param taughtTo what reference materials, except the one at this position, tell beyond axis and resolution
 */
export function shareInstrument(
  estimates: readonly TimedEstimate[],
  taughtTo: (own: number | undefined) => Taught = () => UNTAUGHT,
): SharedInstrument {
  const timed = estimates.every(({ time }) => time !== null);
  const said = estimates.map(({ estimate, time }) => saidBy(estimate, timed ? time! : 0));
  const start = {
    mean: [0, 0, NOISE_START.meanEv, 0],
    sigma: [USUAL.offsetEv, USUAL.gain, NOISE_START.sigmaEv, USUAL.fano],
    driftSigma: timed ? DRIFT_SIGMA : [0, 0, 0, 0],
    scatter: SCATTER_START,
    leastScatter: LEAST_SCATTER,
    mostScatter: MOST_SCATTER,
  };
  const { kept, pooled } = withoutOutlying(said, (some) => pool(some, start));
  const isKept = new Set(kept);
  const members = estimates.filter((_, i) => isKept.has(said[i]));
  const thick = members.filter(({ estimate }) => estimate.thickWindow).length;
  const artefacts = artefactPools(members);
  const [first] = estimates;
  return {
    outlying: said.flatMap((one, i) => (isKept.has(one) ? [] : [i])),
    scatter: pooled.scatter,
    knowledge(time, rate, own) {
      const mine = own === undefined ? undefined : said[own];
      const spectra = kept.length - (mine && isKept.has(mine) ? 1 : 0);
      if (spectra < FEWEST_TO_SHARE || !first) return null;
      const { mean, covariance } = pooled.at(timed ? (time ?? 0) : 0, mine);
      return {
        spectra,
        ...axisAndResolution(first.estimate.header, mean, covariance),
        artefacts: artefactBeliefs(artefacts, rate, own === undefined ? null : estimates[own]),
        thickWindow: thick === 0 ? false : thick === members.length ? true : null,
        taught: taughtTo(own),
      };
    },
  };
}

function saidBy({ information, vector }: InstrumentEstimate, time: number): Said {
  return { information: Float64Array.from(information), vector: Float64Array.from(vector), time };
}

/** Leaves out, one by one, the spectrum that the others contradict most. */
function withoutOutlying(
  said: readonly Said[],
  pooledOf: (some: readonly Said[]) => Pool,
): { kept: readonly Said[]; pooled: Pool } {
  let kept = said;
  for (;;) {
    const pooled = pooledOf(kept);
    const distances = kept.map((one) => distance(one, pooled));
    const worst = Math.max(...distances, 0);
    // Half of the spectra at most: with more, there is no common instrument to speak of.
    if (worst <= OUTLYING || 2 * (kept.length - 1) < said.length) return { kept, pooled };
    kept = kept.filter((_, i) => distances[i] < worst);
  }
}

/** Chi-square of what a spectrum says against what the others predict for it, counted in what it determines. */
function distance(one: Said, pooled: Pool): number {
  const { mean, covariance } = pooled.at(one.time, one);
  let sum = 0;
  // Quantity by quantity with its marginal information: singular information needs no inverse then.
  for (let j = 0; j < SIZE; j++) {
    const information = one.information[j * SIZE + j];
    if (!(information > 0)) continue;
    let own = one.vector[j];
    for (let i = 0; i < SIZE; i++) if (i !== j) own -= one.information[j * SIZE + i] * mean[i];
    const deviation = own / information - mean[j];
    sum = Math.max(sum, deviation ** 2 / (1 / information + covariance[j * SIZE + j] + COMMON[j] ** 2));
  }
  return sum;
}

/** Position and gain made independent by the choice of the pivot. */
function axisAndResolution(
  header: EnergyAxis,
  mean: Float64Array,
  covariance: Float64Array,
): Pick<InstrumentKnowledge, 'axis' | 'pivotEv' | 'positionSigmaEv' | 'gainSigma' | 'noiseEv' | 'fano'> {
  const variance = (i: number, j = i): number => covariance[i * SIZE + j] + (i === j ? COMMON[i] ** 2 : 0);
  const axis = { offsetEv: header.offsetEv + mean[0], gainEv: header.gainEv * (1 + mean[1]) };
  const slope = variance(0, 1) / variance(1);
  return {
    axis,
    // cov(position at E, gain) = cov(offset, gain) + (E − offset) var(gain) = 0
    pivotEv: axis.offsetEv - slope,
    positionSigmaEv: Math.sqrt(variance(0) - slope * variance(0, 1)),
    gainSigma: Math.sqrt(variance(1)),
    noiseEv: { mean: mean[2], sigma: Math.sqrt(variance(2)) },
    fano: { mean: DEFAULT_DETECTOR.fano * (1 + mean[3]), sigma: DEFAULT_DETECTOR.fano * Math.sqrt(variance(3)) },
  };
}

/** Start, least scatter and common doubt of the artefacts' coefficients; pile-up is per count rate (s). */
const ARTEFACTS: Readonly<Record<SharedArtefact, { mean: number; sigma: number; scatter: number; common: number }>> = {
  'charge shelf': { ...SHELF, scatter: 0.001, common: 0.0005 },
  'detector silicon': { ...DETECTOR_SILICON, scatter: 0.1, common: 0.1 },
  'sum peaks': { mean: 1e-7, sigma: 1e-5, scatter: 1e-7, common: 2e-8 },
};

interface ArtefactPool {
  readonly name: SharedArtefact;
  readonly pooled: Pool;
  readonly said: ReadonlyMap<TimedEstimate, Said>;
}

function artefactPools(members: readonly TimedEstimate[]): ArtefactPool[] {
  return (Object.keys(ARTEFACTS) as SharedArtefact[]).map((name) => {
    const said = new Map(
      members.flatMap((member) => {
        const one = ofArtefact(member.estimate, name);
        return one ? [[member, one] as const] : [];
      }),
    );
    const { mean, sigma, scatter } = ARTEFACTS[name];
    const start = { mean: [mean], sigma: [sigma], driftSigma: [0], scatter: [scatter], leastScatter: [scatter / 10] };
    return { name, said, pooled: pool([...said.values()], start) };
  });
}

/** Pile-up goes with the rate, so it is told per rate; without one it tells nothing. */
function ofArtefact({ artefacts, rate }: InstrumentEstimate, name: SharedArtefact): Said | null {
  const own = artefacts.find((artefact) => artefact.name === name);
  const unit = name === 'sum peaks' ? rate : 1;
  if (!own || !unit) return null;
  const information = own.information * unit ** 2;
  return {
    information: Float64Array.of(information),
    vector: Float64Array.of((information * own.value) / unit),
    time: 0,
  };
}

function artefactBeliefs(
  pools: readonly ArtefactPool[],
  rate: number | null,
  own: TimedEstimate | null,
): Partial<Record<SharedArtefact, Believed>> {
  const out: Partial<Record<SharedArtefact, Believed>> = {};
  for (const { name, pooled, said } of pools) {
    const unit = name === 'sum peaks' ? rate : 1;
    const mine = own ? said.get(own) : undefined;
    if (!unit || said.size - (mine ? 1 : 0) < FEWEST_TO_SHARE) continue;
    const { mean, covariance } = pooled.at(0, mine);
    const sigma = Math.sqrt(covariance[0] + ARTEFACTS[name].common ** 2);
    out[name] = { mean: unit * Math.max(0, mean[0]), sigma: unit * sigma };
  }
  return out;
}
