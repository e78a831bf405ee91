import { symbolOf } from '../atomic/elements.ts';
import { addScaled, type Column } from '../model/column.ts';
import { escapeTemplate } from '../model/templates.ts';
import type { LedgerEntry } from './finding.ts';
import type { Frame, Round } from './state.ts';

/** One part of the model: expected counts per channel, zero outside the fitted range. */
export interface Part {
  readonly kind: 'background' | 'element' | 'artefact';
  /** Symbol of an element, name of an artefact, 'continuum' for the background. */
  readonly name: string;
  readonly counts: Float64Array;
}

/** Splits the model into its parts; they add up to it channel by channel. Elements by falling counts, then artefacts. */
export function partsOf(frame: Frame, round: Round): Part[] {
  const n = frame.counts.length;
  const { templates, artefacts, nuisances, hypothesis, theta } = round;
  const background = round.background.slice();
  const artefact = new Map<string, Float64Array>();
  artefacts.forEach(({ name, column }, i) => {
    if (name !== 'background' && name !== 'continuum doubt') addScaled(arrayOf(artefact, name, n), column, theta[i]);
  });
  const escape = new Float64Array(n);
  const elements = hypothesis.members.map((e) => {
    const { z, column } = templates[e];
    const counts = new Float64Array(n);
    addScaled(counts, column, hypothesis.x[e]);
    const escapes = escapeTemplate(z, round.areas, round.instrument, n);
    addScaled(counts, escapes, -hypothesis.x[e]);
    addScaled(escape, escapes, hypothesis.x[e]);
    nuisances.forEach((nuisance, i) => {
      if (nuisance.owner === z) addScaled(counts, nuisance.column, theta[artefacts.length + i]);
    });
    return { kind: 'element' as const, name: symbolOf(z), counts };
  });
  artefact.set('escape peaks', escape);
  nuisances.forEach(({ owner, column }: { owner: number; column: Column }, i) => {
    if (owner === 0) addScaled(arrayOf(artefact, 'axis and width residue', n), column, theta[artefacts.length + i]);
  });
  const parts: Part[] = [
    { kind: 'background', name: 'continuum', counts: background },
    ...elements.sort((a, b) => total(b.counts, frame) - total(a.counts, frame)),
    ...[...artefact].map(([name, counts]) => ({ kind: 'artefact' as const, name, counts })),
  ];
  for (const { counts } of parts) {
    counts.fill(0, 0, frame.range.lo);
    counts.fill(0, frame.range.hi);
  }
  return parts;
}

/** The account of every count: parts of the model, what it leaves unexplained, what lies outside the fitted range. */
export function ledgerOf(frame: Frame, parts: readonly Part[]): LedgerEntry[] {
  let inside = 0;
  let all = 0;
  for (let i = 0; i < frame.counts.length; i++) {
    all += frame.counts[i];
    if (i >= frame.range.lo && i < frame.range.hi) inside += frame.counts[i];
  }
  const entries: LedgerEntry[] = parts.map(({ kind, name, counts }) => ({
    part: kind,
    name,
    counts: total(counts, frame),
  }));
  const explained = entries.reduce((sum, { counts }) => sum + counts, 0);
  entries.push({ part: 'unexplained', name: 'measured less model', counts: inside - explained });
  entries.push({ part: 'outside-range', name: 'noise, zero peak and beyond the fitted range', counts: all - inside });
  return entries;
}

function arrayOf(map: Map<string, Float64Array>, name: string, n: number): Float64Array {
  let values = map.get(name);
  if (!values) map.set(name, (values = new Float64Array(n)));
  return values;
}

function total(values: Float64Array, { range }: Frame): number {
  let sum = 0;
  for (let i = range.lo; i < range.hi; i++) sum += values[i];
  return sum;
}
