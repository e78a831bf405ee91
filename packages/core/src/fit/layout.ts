import { addScaled, type Column } from '../model/column.ts';
import { addColumns, bundleOf } from './bundle.ts';
import type { Nuisance } from '../model/nuisances.ts';
import type { ElementTemplate } from '../model/templates.ts';

export type ArtefactName =
  | 'background'
  | 'continuum doubt'
  | 'charge shelf'
  | 'flat floor'
  | 'detector silicon'
  | 'detector aluminium'
  | 'soft bump'
  | 'sum peaks';

/** A named column of the instrument's or the background's doing, with its coefficient's meaning. */
export interface ArtefactColumn {
  readonly name: ArtefactName;
  readonly column: Column;
  /** Gaussian prior of its coefficient; null for the splines, which are bound together. */
  readonly prior: { readonly mean: number; readonly sigma: number } | null;
}

/** Moves of the instrument: one nuisance each, owned by no element. */
export type InstrumentMove = 'offset' | 'gain' | 'noise' | 'fano';

/**
 * Where the coefficients of the linear model stand: amounts of the elements first, then artefacts (the background's splines at
 * their head), then nuisances. No other file counts them.
 */
export class Layout {
  readonly templates: readonly ElementTemplate[];
  readonly artefacts: readonly ArtefactColumn[];
  readonly nuisances: readonly Nuisance[];
  readonly columns: readonly Column[];
  readonly #splines: number;

  constructor(
    templates: readonly ElementTemplate[],
    artefacts: readonly ArtefactColumn[],
    nuisances: readonly Nuisance[],
  ) {
    this.templates = templates;
    this.artefacts = artefacts;
    this.nuisances = nuisances;
    const columns: Column[] = [];
    for (const { column } of templates) columns.push(column);
    for (const { column } of artefacts) columns.push(column);
    for (const { column } of nuisances) columns.push(column);
    this.columns = columns;
    let splines = 0;
    for (const { name } of artefacts) if (name === 'background') splines++;
    this.#splines = splines;
  }

  /** Number of coefficients. */
  get size(): number {
    return this.columns.length;
  }

  /** Number of elements: their amounts are the coefficients 0 .. elements - 1. */
  get elements(): number {
    return this.templates.length;
  }

  /** Number of coefficients that are no amounts: they are eliminated in a search. */
  get eliminated(): number {
    return this.size - this.elements;
  }

  /** Index of the coefficient of an artefact. */
  artefact(i: number): number {
    return this.elements + i;
  }

  /** Index of the coefficient of a nuisance. */
  nuisance(i: number): number {
    return this.elements + this.artefacts.length + i;
  }

  /** Index of the coefficient of a move of the instrument; -1 where the model has none. */
  indexOf(kind: InstrumentMove): number {
    for (let i = 0; i < this.nuisances.length; i++) if (this.nuisances[i].kind === kind) return this.nuisance(i);
    return -1;
  }

  /** Index of the coefficient of the first artefact of a name; -1 where the model has none. */
  indexOfArtefact(name: ArtefactName): number {
    for (let i = 0; i < this.artefacts.length; i++) if (this.artefacts[i].name === name) return this.artefact(i);
    return -1;
  }

  /** Place of a coefficient among the eliminated ones. */
  placeEliminated(index: number): number {
    return index - this.elements;
  }

  /** Amounts among all coefficients; a view. */
  amounts(coefficients: Float64Array): Float64Array {
    return coefficients.subarray(0, this.elements);
  }

  /** Coefficients of the background's splines; a view. */
  splines(coefficients: Float64Array): Float64Array {
    return coefficients.subarray(this.elements, this.elements + this.#splines);
  }

  /** Number of splines of the background. */
  get splineCount(): number {
    return this.#splines;
  }

  /** All coefficients from amounts and the eliminated ones. */
  joined(amounts: Float64Array, eliminated: Float64Array): Float64Array {
    const out = new Float64Array(this.size);
    out.set(amounts);
    out.set(eliminated, this.elements);
    return out;
  }

  /** Sum of the columns, each times its coefficient: expected counts per channel, length n. */
  expected(coefficients: Float64Array, n: number): Float64Array {
    const out = new Float64Array(n);
    addColumns(out, bundleOf(this.columns), coefficients);
    return out;
  }

  /** Continuum counts per channel, length n. */
  continuum(coefficients: Float64Array, n: number): Float64Array {
    const out = new Float64Array(n);
    for (let i = 0; i < this.artefacts.length; i++) {
      const { name, column } = this.artefacts[i];
      if (isContinuum(name)) addScaled(out, column, coefficients[this.artefact(i)]);
    }
    return out;
  }

  /** Lower bound of each coefficient: amounts, splines and shelf cannot be negative. */
  lowerBounds(): Float64Array {
    const lower = new Float64Array(this.size).fill(-Infinity);
    lower.fill(0, 0, this.elements);
    for (let i = 0; i < this.artefacts.length; i++)
      if (NOT_NEGATIVE.has(this.artefacts[i].name)) lower[this.artefact(i)] = 0;
    return lower;
  }
}

/** Whether an artefact is part of the continuum. */
export function isContinuum(name: ArtefactName): boolean {
  return name === 'background' || name === 'continuum doubt';
}

/** Artefacts that can add counts only. */
const NOT_NEGATIVE: ReadonlySet<ArtefactName> = new Set([
  'background',
  'charge shelf',
  'flat floor',
  'detector silicon',
  'detector aluminium',
  'soft bump',
]);
