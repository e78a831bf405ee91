import { sumOver } from '../arithmetic/sum.ts';
import { symbolOf } from '../atomic/elements.ts';
import type { Scene } from '../fit/expansion.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { isContinuum } from '../fit/layout.ts';
import { addScaled } from '../model/column.ts';
import { escapeTemplate } from '../model/templates.ts';
import type { LedgerEntry } from './finding.ts';

/** One part of the model: expected counts per channel, zero outside the fitted range. */
export interface Part {
  readonly kind: 'background' | 'element' | 'artefact';
  /** Symbol of an element, name of an artefact, 'continuum' for the background. */
  readonly name: string;
  readonly counts: Float64Array;
}

/** Splits the model into its parts; they add up to it channel by channel. Elements by falling counts, then artefacts. */
export function partsOf(scene: Scene, { zs, at, design, fit, background: continuum }: SpectrumFit): Part[] {
  const n = scene.counts.length;
  const { layout, areas } = design;
  const { coefficients } = fit;
  const background = continuum.slice();
  const artefact = new Map<string, Float64Array>();
  for (let i = 0; i < layout.artefacts.length; i++) {
    const { name, column } = layout.artefacts[i];
    if (!isContinuum(name)) addScaled(arrayOf(artefact, name, n), column, coefficients[layout.artefact(i)]);
  }
  const escape = new Float64Array(n);
  const { nuisances } = layout;
  const elements: ElementPart[] = [];
  for (let e = 0; e < zs.length; e++) {
    const counts = new Float64Array(n);
    addScaled(counts, layout.templates[e].column, coefficients[e]);
    const escapes = escapeTemplate(zs[e], areas, at.instrument, n);
    addScaled(counts, escapes, -coefficients[e]);
    addScaled(escape, escapes, coefficients[e]);
    for (let i = 0; i < nuisances.length; i++)
      if (nuisances[i].owner === zs[e]) addScaled(counts, nuisances[i].column, coefficients[layout.nuisance(i)]);
    elements.push({ part: { kind: 'element', name: symbolOf(zs[e]), counts }, total: total(counts, scene) });
  }
  artefact.set('escape peaks', escape);
  for (let i = 0; i < nuisances.length; i++) {
    const { owner, column } = nuisances[i];
    if (owner === 0)
      addScaled(arrayOf(artefact, 'axis and width residue', n), column, coefficients[layout.nuisance(i)]);
  }
  const parts: Part[] = [
    { kind: 'background', name: 'continuum', counts: background },
    ...elements.sort(mostCountsFirst).map(({ part }) => part),
    ...[...artefact].map(([name, counts]) => ({ kind: 'artefact' as const, name, counts })),
  ];
  for (const { counts } of parts) {
    counts.fill(0, 0, scene.range.lo);
    counts.fill(0, scene.range.hi);
  }
  return parts;
}

interface ElementPart {
  readonly part: Part;
  readonly total: number;
}

const mostCountsFirst = (a: ElementPart, b: ElementPart): number => b.total - a.total;

/** The account of every count: parts of the model, what it leaves unexplained, what lies outside the fitted range. */
export function ledgerOf(scene: Scene, parts: readonly Part[]): LedgerEntry[] {
  let inside = 0;
  let all = 0;
  for (let i = 0; i < scene.counts.length; i++) {
    all += scene.counts[i];
    if (i >= scene.range.lo && i < scene.range.hi) inside += scene.counts[i];
  }
  const entries: LedgerEntry[] = parts.map(({ kind, name, counts }) => ({
    part: kind,
    name,
    counts: total(counts, scene),
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

const total = (values: Float64Array, { range }: Scene): number => sumOver(values, range.lo, range.hi);
