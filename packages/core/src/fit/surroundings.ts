import { Scratch } from '../arithmetic/scratch.ts';
import type { MassFractions } from '../atomic/composition.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import type { Emission } from '../emission/thick/characteristic.ts';
import { backgroundColumns } from '../model/background.ts';
import type { Column } from '../model/column.ts';
import { detectedContinuum, type DetectedContinuum } from '../model/continuum.ts';
import { edgeSteps, type EdgeSteps } from '../model/edge-steps.ts';
import { channelEnergies, type Instrument } from '../model/instrument.ts';
import { radiativeAugerBands, type RadiativeAugerBand } from '../model/radiative-auger.ts';
import type { Smear } from '../model/smear.ts';
import { sumSmear } from '../model/sum-peaks.ts';
import {
  elementTemplate,
  groupTemplates,
  lineAreas,
  type ElementTemplate,
  type GroupTemplate,
} from '../model/templates.ts';
import type { Expansion, Scene } from './expansion.ts';

/** Shapes of one element, made when first asked for. */
interface Shapes {
  readonly template: ElementTemplate;
  groups?: readonly GroupTemplate[];
  bands?: readonly RadiativeAugerBand[];
  edgeSteps?: readonly EdgeSteps[];
}

/**
 * What of the model depends on instrument and matrix alone: shapes of the elements and the continuum. Other sets of elements tried in the
 * same place, with other amounts, share them.
 */
export class Surroundings {
  readonly #emission: Emission;
  readonly #instrument: Instrument;
  readonly #composition: MassFractions;
  readonly #n: number;
  readonly #lo: number;
  readonly #hi: number;
  #areas = new Float64Array(LINE_TABLE.count);
  /** Whether the areas were given out: they are not changed then, but copied first. */
  #given = false;
  readonly #shapes = new Map<number, Shapes>();
  #continuum: DetectedContinuum | undefined;
  #splines: readonly Column[] | undefined;
  #sumSmear: Smear | undefined;

  constructor({ emission, counts, range }: Scene, { instrument, composition }: Place) {
    this.#emission = emission;
    this.#instrument = instrument;
    this.#composition = composition;
    this.#n = counts.length;
    this.#lo = range.lo;
    this.#hi = range.hi;
  }

  /** Whether these are the surroundings of a scene at a matrix, the instrument being the same. */
  areOf({ emission, counts, range }: Scene, composition: MassFractions): boolean {
    return (
      this.#emission === emission &&
      this.#composition === composition &&
      this.#n === counts.length &&
      this.#lo === range.lo &&
      this.#hi === range.hi
    );
  }

  /** Detected area of every line of these elements, LINE_TABLE order; 0 for all other elements. */
  areas(zs: readonly number[]): Float64Array {
    this.#make(zs);
    if (new Set(zs).size === this.#shapes.size) {
      this.#given = true;
      return this.#areas;
    }
    const out = new Float64Array(LINE_TABLE.count);
    for (const z of zs) {
      const [from, to] = [LINE_TABLE.first[z], LINE_TABLE.first[z + 1]];
      out.set(this.#areas.subarray(from, to), from);
    }
    return out;
  }

  template(z: number): ElementTemplate {
    return this.#of(z).template;
  }

  groups(z: number): readonly GroupTemplate[] {
    return (this.#of(z).groups ??= groupTemplates(z, this.#areas, this.#instrument, this.#n));
  }

  bands(z: number): readonly RadiativeAugerBand[] {
    return (this.#of(z).bands ??= radiativeAugerBands(z, this.#areas, this.#instrument, this.#n));
  }

  /** Relative changes of the continuum at an element's absorption edges. */
  edgeSteps(z: number): readonly EdgeSteps[] {
    return (this.#of(z).edgeSteps ??= edgeSteps(z, this.#instrument, this.#lo, this.#hi));
  }

  get continuum(): DetectedContinuum {
    return (this.#continuum ??= detectedContinuum(
      this.#emission,
      this.#composition,
      this.#instrument,
      this.#n,
      this.#lo,
      this.#hi,
    ));
  }

  /** Splines of the background. */
  get splines(): readonly Column[] {
    const energies = channelEnergies(this.#instrument.axis, this.#n);
    return (this.#splines ??= backgroundColumns(this.continuum.counts, energies, this.#lo, this.#hi));
  }

  /** What smears sum peaks. */
  get sumSmear(): Smear {
    return (this.#sumSmear ??= sumSmear(this.#instrument, this.#n));
  }

  #of(z: number): Shapes {
    this.#make([z]);
    return this.#shapes.get(z)!;
  }

  /** All elements that are not known yet at once: most of the work of their emission is common. */
  #make(zs: readonly number[]): void {
    const missing = zs.filter((z) => !this.#shapes.has(z));
    if (missing.length === 0) return;
    const wanted = new Uint8Array(LINE_TABLE.first.length);
    for (const z of missing) wanted[z] = 1;
    const emitted = this.#emission.lines(this.#composition, wanted, EMITTED.zeros(LINE_TABLE.count));
    if (this.#given) [this.#areas, this.#given] = [this.#areas.slice(), false];
    lineAreas(emitted, this.#instrument, missing, this.#areas);
    for (const z of missing)
      this.#shapes.set(z, { template: elementTemplate(z, this.#areas, this.#instrument, this.#n) });
  }
}

const EMITTED = new Scratch();

type Place = Pick<Expansion, 'instrument' | 'composition'>;

/** Surroundings by instrument, as long as someone holds on to it; the last matrix alone. */
const KEPT = new WeakMap<Instrument, Surroundings>();

export function surroundingsOf(scene: Scene, place: Place): Surroundings {
  const kept = KEPT.get(place.instrument);
  if (kept?.areOf(scene, place.composition)) return kept;
  const made = new Surroundings(scene, place);
  KEPT.set(place.instrument, made);
  return made;
}
