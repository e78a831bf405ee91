import { log } from '../arithmetic/exponential.ts';
import { cholesky, solveLower } from '../fit/cholesky.ts';
import type { Evidence } from './evidence.ts';
import { knownLookalikes } from './knowledge.ts';
import type { Mixture } from './mixture.ts';
import { IMPURITY } from './mixture-steps.ts';
import type { Part } from './part.ts';
import { stretch } from '../arithmetic/stretch.ts';

/** Squared distance below which these amounts cannot tell two materials apart (two standard deviations). */
const ALIKE = 4;
/** The same for materials that the knowledge says elements cannot tell apart. */
const STATED_ALIKE = 16;
/** Squared distance below which one fit does for two materials. */
const SAME = 0.1;

/** A material alone at its best amount, as its distance to others is reckoned. */
interface Seen {
  readonly mixture: Mixture;
  /** ln of what it holds of each element, blurred by what counting and impurities hide. */
  readonly ln: Float64Array;
  readonly loose: Float64Array;
}

const SEEN = new WeakMap<Mixture, Seen>();

function seen(mixture: Mixture, evidence: Evidence): Seen {
  let own = SEEN.get(mixture);
  if (own === undefined) SEEN.set(mixture, (own = madeSeen(mixture, evidence)));
  return own;
}

function madeSeen(mixture: Mixture, { amounts }: Evidence): Seen {
  const ln = stretch(amounts.length);
  for (let i = 0; i < ln.length; i++) ln[i] = log(mixture.held[i] + Math.hypot(amounts[i].counting, IMPURITY));
  return { mixture, ln, loose: mixture.parts[0].loose };
}

/**
 * Squared distance of two materials as these amounts see them: differences of ln(what each would hold alone) against the covariance of
 * the physics and both materials' own spread. Elements that something else may hold as well (`at-most`) do not count.
 * @param enough a distance beyond which it does not matter how far: some distance beyond it is then given
 */
function distance2(a: Seen, b: Seen, { amounts, joint }: Evidence, enough: number): number {
  const loose2 = (i: number): number => a.loose[i] ** 2 + b.loose[i] ** 2;
  let sum = 0;
  for (let i = 0; i < amounts.length && sum <= enough; i++)
    if (amounts[i].kind === 'not-seen') sum += (a.ln[i] - b.ln[i]) ** 2 / (amounts[i].physics ** 2 + loose2(i));
  if (sum > enough) return sum;
  const { places, physics } = joint;
  const m = places.length;
  const both: number[] = [];
  for (let k = 0; k < m; k++) if (a.mixture.held[places[k]] > 0 || b.mixture.held[places[k]] > 0) both.push(k);
  const difference = stretch(both.length);
  // No variance in any direction is more than all together.
  let square = 0;
  let all = 0;
  for (let r = 0; r < both.length; r++) {
    const i = places[both[r]];
    difference[r] = a.ln[i] - b.ln[i];
    square += difference[r] ** 2;
    all += physics[both[r] * m + both[r]] + loose2(i);
  }
  if (sum + square / all > enough) return sum + square / all;
  const covariance = stretch(both.length ** 2);
  both.forEach((j, r) => {
    both.forEach((k, c) => {
      covariance[r * both.length + c] = physics[j * m + k] + (j === k ? loose2(places[j]) : 0);
    });
  });
  solveLower(cholesky(covariance, both.length), both.length, difference);
  return difference.reduce((total, value) => total + value ** 2, sum);
}

/** Materials, each alone, that need an element in common and that the amounts, or by the knowledge any amounts, cannot tell apart. */
export function areAlike(a: Mixture, b: Mixture, evidence: Evidence): boolean {
  const needed = b.parts[0].material.required;
  if (!a.parts[0].material.required.some((symbol) => needed.includes(symbol))) return false;
  const d2 = distance2(seen(a, evidence), seen(b, evidence), evidence, STATED_ALIKE);
  return d2 < ALIKE || (d2 < STATED_ALIKE && knownLookalikes(idOf(a)).has(idOf(b)));
}

/** Parts that one fit does for, each list headed by the first of them in the order given. */
export function sameParts(alone: ReadonlyMap<Part, Mixture>, evidence: Evidence): Part[][] {
  const groups: { readonly head: Seen; readonly parts: Part[] }[] = [];
  for (const [part, mixture] of alone) {
    const own = seen(mixture, evidence);
    const group = groups.find(({ head }) => distance2(head, own, evidence, SAME) < SAME);
    if (group) group.parts.push(part);
    else groups.push({ head: own, parts: [part] });
  }
  return groups.map(({ parts }) => parts);
}

function idOf({ parts: [part] }: Mixture): string {
  return part.material.id;
}
