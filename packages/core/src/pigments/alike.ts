import { cholesky, solveLower } from '../fit/cholesky.ts';
import type { Evidence } from './evidence.ts';
import { knownLookalikes } from './knowledge.ts';
import type { Mixture } from './mixture.ts';
import { IMPURITY } from './mixture-steps.ts';
import type { Part } from './part.ts';

/** Squared distance below which these amounts cannot tell two materials apart (two standard deviations). */
const ALIKE = 4;
/** The same for materials that the knowledge says elements cannot tell apart. */
const STATED_ALIKE = 16;
/** Squared distance below which one fit does for two materials. */
const SAME = 0.1;

/**
 * Squared distance of two materials as these amounts see them: differences of ln(what each would hold alone) against the covariance of
 * the physics and both materials' own spread. Elements that something else may hold as well (`at-most`) do not count.
 * @param a each material alone at its best amount
 */
export function distance2(a: Mixture, b: Mixture, { amounts, joint }: Evidence): number {
  const differing = (i: number): number => {
    if (a.held[i] === 0 && b.held[i] === 0) return 0;
    const floor = Math.hypot(amounts[i].counting, IMPURITY);
    return Math.log((a.held[i] + floor) / (b.held[i] + floor));
  };
  const loose2 = (i: number): number => a.parts[0].loose[i] ** 2 + b.parts[0].loose[i] ** 2;
  let sum = 0;
  for (let i = 0; i < amounts.length; i++)
    if (amounts[i].kind === 'not-seen') sum += differing(i) ** 2 / (amounts[i].physics ** 2 + loose2(i));
  const m = joint.places.length;
  const both = [...joint.places.keys()].filter((k) => a.held[joint.places[k]] > 0 || b.held[joint.places[k]] > 0);
  const covariance = Float64Array.from({ length: both.length ** 2 }, (_, at) => {
    const [j, k] = [both[Math.floor(at / both.length)], both[at % both.length]];
    return joint.physics[j * m + k] + (j === k ? loose2(joint.places[j]) : 0);
  });
  const difference = Float64Array.from(both, (k) => differing(joint.places[k]));
  solveLower(cholesky(covariance, both.length), both.length, difference);
  return difference.reduce((total, value) => total + value ** 2, sum);
}

/** Materials, each alone, that need an element in common and that the amounts, or by the knowledge any amounts, cannot tell apart. */
export function areAlike(a: Mixture, b: Mixture, evidence: Evidence): boolean {
  const needed = b.parts[0].material.required;
  if (!a.parts[0].material.required.some((symbol) => needed.includes(symbol))) return false;
  const d2 = distance2(a, b, evidence);
  return d2 < ALIKE || (d2 < STATED_ALIKE && knownLookalikes(idOf(a)).has(idOf(b)));
}

/** Parts that one fit does for, each list headed by the first of them in the order given. */
export function sameParts(alone: ReadonlyMap<Part, Mixture>, evidence: Evidence): Part[][] {
  const groups: Part[][] = [];
  for (const [part, mixture] of alone) {
    const group = groups.find(([head]) => distance2(alone.get(head)!, mixture, evidence) < SAME);
    if (group) group.push(part);
    else groups.push([part]);
  }
  return groups;
}

function idOf({ parts: [part] }: Mixture): string {
  return part.material.id;
}
