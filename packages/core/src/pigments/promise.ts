import { log } from '../arithmetic/exponential.ts';
import { MAX_Z } from '../atomic/elements.ts';
import type { Figures } from './figures.ts';
import { type Mixture, UNKNOWN } from './mixture.ts';
import { IMPURITY } from './mixture-steps.ts';
import type { Part } from './part.ts';
import { PRIORS } from './priors.ts';

/** A part that may better a mixture. */
export interface Promised {
  readonly part: Part;
  /** How much of it makes up for what is lacking, mass fraction. */
  readonly fraction: number;
  /** What is expected of it, ln, with its prior. */
  readonly lnGain: number;
}

/** Chi-square that one more part has to pay for. */
const COST = -PRIORS.part.value;

/**
 * The parts of which a quick estimate promises most for a mixture, and that pay for themselves, best first.
 * @param most no more than so many
 */
export function promising(mixture: Mixture, parts: readonly Part[], figures: Figures, most: number): Promised[] {
  estimateMissed(mixture, figures);
  const best: Promised[] = [];
  for (let p = 0; p < parts.length; p++) {
    const part = parts[p];
    if (mixture.parts.includes(part)) continue;
    const least = best.length < most ? -Infinity : best[most - 1].lnGain;
    const promised = promise(part, Math.max(COST, 2 * (least - part.lnPrior)));
    if (promised === null) continue;
    let place = Math.min(best.length, most - 1);
    for (; place > 0 && best[place - 1].lnGain < promised.lnGain; place--) best[place] = best[place - 1];
    best[place] = promised;
  }
  return best;
}

const perAmount = (): Float64Array => new Float64Array(MAX_Z + 1);

/**
 * What a mixture misses, quickly estimated; aligned with the evidence. One mixture follows another, and none is kept: its arrays always
 * stay the same, which lets the engine compile their places in.
 */
const MISSED = {
  value: perAmount(),
  counting: perAmount(),
  physics2: perAmount(),
  atMost: new Uint8Array(MAX_Z + 1),
  measured: new Uint8Array(MAX_Z + 1),
  held: perAmount(),
  /** Squared deviation of each. */
  deviations: perAmount(),
  /** The most of it that one more part could take away: none where there is too much already. */
  gains: perAmount(),
} as const;

function estimateMissed(mixture: Mixture, figures: Figures): void {
  const { value, counting, physics2, atMost, measured, held, deviations, gains } = MISSED;
  for (let i = 0; i < mixture.held.length; i++) {
    value[i] = figures.value[i];
    counting[i] = figures.counting[i];
    physics2[i] = figures.physics2[i];
    atMost[i] = figures.atMost[i];
    measured[i] = figures.joined[i] < 0 ? 0 : 1;
    held[i] = mixture.held[i];
    deviations[i] = deviationAt(i, held[i]);
    gains[i] = held[i] < value[i] || held[i] < counting[i] ? deviations[i] : 0;
  }
}

/** As the quick estimate has it where so much of an amount is held. */
function deviationAt(i: number, held: number): number {
  const { value, counting, physics2, atMost } = MISSED;
  return quickDeviation(value[i], counting[i], physics2[i], atMost[i], held);
}

/**
 * Quick estimate of how much chi-square falls when as much of a part is added as its measured elements still lack, the least or the
 * typical one of them; null where that is not more than so much.
 */
function promise(part: Part, than: number): Promised | null {
  const { held, deviations, gains } = MISSED;
  const { places, holds } = part;
  let left = 0;
  for (let k = 0; k < places.length; k++) left += gains[places[k]];
  if (left <= than) return null;
  const number = lacking(part);
  let [most, best] = [than, 0];
  for (let way = 0; way < Math.min(2, number); way++) {
    const fraction = LACKING[way === 0 ? 0 : number >> 1];
    // From all that could be gained, what is not gained is taken off.
    let gain = left;
    for (let k = 0; k < places.length && gain > most; k++) {
      const i = places[k];
      gain += deviations[i] - gains[i] - deviationAt(i, held[i] + fraction * holds[i]);
    }
    if (gain > most) [most, best] = [gain, fraction];
  }
  return best > 0 ? { part, fraction: best, lnGain: most / 2 + part.lnPrior } : null;
}

/** Fractions that make up for what measured elements lack: tens of thousands of lists follow each other, and none is kept. */
const LACKING = new Float64Array(MAX_Z + 1);

/** Lists the fractions that make up for what each of its measured elements lacks, ascending; how many. */
function lacking({ holds, places, room }: Part): number {
  const { value, measured, held } = MISSED;
  let number = 0;
  for (let k = 0; k < places.length; k++) {
    const i = places[k];
    if (measured[i] === 0 || value[i] <= held[i]) continue;
    const fraction = Math.min(room.most, (value[i] - held[i]) / holds[i]);
    let place = number++;
    for (; place > 0 && LACKING[place - 1] > fraction; place--) LACKING[place] = LACKING[place - 1];
    LACKING[place] = fraction;
  }
  return number;
}

/**
 * Quick estimate of an element's squared deviation where `held` of it is offered: the smaller of counting's and the logarithm's,
 * joined smoothly. Only for choosing what to fit. @param atMost 1 where others may hold it as well
 */
export function quickDeviation(
  value: number,
  counting: number,
  physics2: number,
  atMost: number,
  held: number,
): number {
  if (held <= value && atMost === 1) return 0;
  const off = value - held;
  const linear = (off * off) / (counting * counting + (off > 0 ? IMPURITY * IMPURITY : 0));
  const most = held < value ? UNKNOWN : Infinity;
  if (held <= counting || linear === 0) return Math.min(most, linear);
  const ln = log(Math.max(value, counting) / held);
  const logarithmic = (ln * ln) / physics2;
  return logarithmic === 0 ? 0 : Math.min(most, 1 / (1 / linear + 1 / logarithmic));
}
