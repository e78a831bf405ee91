import { log } from '../arithmetic/exponential.ts';
import { eliminate } from './elimination.ts';
import type { Evidence } from './evidence.ts';
import { figuresOf } from './figures.ts';
import type { Joint } from './joint.ts';
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
  readonly held: Float64Array;
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

function madeSeen({ held, parts }: Mixture, { amounts }: Evidence): Seen {
  const ln = stretch(amounts.length);
  for (let i = 0; i < ln.length; i++) ln[i] = log(held[i] + Math.sqrt(amounts[i].counting ** 2 + IMPURITY ** 2));
  return { held, ln, loose: parts[0].loose };
}

const loose2 = (a: Seen, b: Seen, i: number): number => a.loose[i] * a.loose[i] + b.loose[i] * b.loose[i];

/**
 * Squared distance of two materials as these amounts see them: differences of ln(what each would hold alone) against the covariance of
 * the physics and both materials' own spread. Elements that something else may hold as well (`at-most`) do not count.
 * @param enough a distance beyond which it does not matter how far: some distance beyond it is then given
 */
function distance2(a: Seen, b: Seen, evidence: Evidence, enough: number): number {
  const { atMost, joined, physics2, joint } = figuresOf(evidence);
  const { places, physics } = joint;
  let sum = 0;
  for (let i = 0; i < joined.length && sum <= enough; i++)
    if (joined[i] < 0 && atMost[i] === 0) sum += (a.ln[i] - b.ln[i]) ** 2 / (physics2[i] + loose2(a, b, i));
  if (sum > enough) return sum;
  const m = places.length;
  // No variance in any direction is more than all together.
  let [square, all] = [0, 0];
  for (let k = 0; k < m; k++) {
    const i = places[k];
    if (a.held[i] === 0 && b.held[i] === 0) continue;
    square += (a.ln[i] - b.ln[i]) ** 2;
    all += physics[k * m + k] + loose2(a, b, i);
  }
  if (sum + square / all > enough) return sum + square / all;
  const both: number[] = [];
  for (let k = 0; k < m; k++) if (a.held[places[k]] > 0 || b.held[places[k]] > 0) both.push(k);
  return sum + jointly(both, a, b, joint);
}

/** Squared distance by elements that were measured: their places in what hangs together. */
function jointly(both: readonly number[], a: Seen, b: Seen, { places, physics }: Joint): number {
  const n = both.length;
  const [rows, inverses] = [stretch((n + 1) * n), stretch(n)];
  for (let r = 0; r < n; r++) {
    const i = places[both[r]];
    for (let c = r; c < n; c++) rows[r * n + c] = physics[both[r] * places.length + both[c]];
    rows[r * n + r] += loose2(a, b, i);
    rows[n * n + r] = a.ln[i] - b.ln[i];
  }
  eliminate(rows, n, n + 1, inverses);
  let sum = 0;
  for (let c = 0; c < n; c++) sum += rows[n * n + c] ** 2 * inverses[c];
  return sum;
}

/** Materials, each alone, that need an element in common and that the amounts, or by the knowledge any amounts, cannot tell apart. */
export function areAlike(a: Mixture, b: Mixture, evidence: Evidence): boolean {
  const needed = b.parts[0].material.required;
  if (!a.parts[0].material.required.some((symbol) => needed.includes(symbol))) return false;
  const d2 = distance2(seen(a, evidence), seen(b, evidence), evidence, STATED_ALIKE);
  return d2 < ALIKE || (d2 < STATED_ALIKE && knownLookalikes(idOf(a)).has(idOf(b)));
}

interface Same {
  readonly head: Seen;
  readonly parts: Part[];
}

/** Parts that one fit does for, each list headed by the first of them in the order given. */
export function sameParts(alone: ReadonlyMap<Part, Mixture>, evidence: Evidence): Part[][] {
  const groups: Same[] = [];
  for (const [part, mixture] of alone) {
    const own = seen(mixture, evidence);
    const group = groupFor(own, groups, evidence);
    if (group === undefined) groups.push({ head: own, parts: [part] });
    else group.parts.push(part);
  }
  return groups.map(({ parts }) => parts);
}

function groupFor(own: Seen, groups: readonly Same[], evidence: Evidence): Same | undefined {
  for (const group of groups) if (distance2(group.head, own, evidence, SAME) < SAME) return group;
  return undefined;
}

function idOf({ parts: [part] }: Mixture): string {
  return part.material.id;
}
