import { mixture, type MassFractions } from '../atomic/composition.ts';
import { zOf } from '../atomic/elements.ts';
import packed from './knowledge.json' with { type: 'json' };

/** How far a fact can be trusted: by agreement of sources, not by how often it is repeated. */
export type Trust = 'high' | 'medium' | 'low' | 'none';

/** An atomic ratio `element : per` above which the material is unlikely to be what carries `per`. */
export interface Counterargument {
  readonly element: string;
  readonly per: string;
  readonly above: number;
  readonly reason: string;
}

/** One row of data/pigments/materials.csv. */
export interface Material {
  readonly id: string;
  readonly name: string;
  readonly otherNames: readonly string[];
  readonly class: string;
  readonly hue: string;
  /** Phases with their mass fractions, adding up to 1. */
  readonly composition: readonly { readonly formula: string; readonly massFraction: number }[];
  /** Relative standard deviation of the element ratios between specimens of the material; 0 for a fixed compound. */
  readonly spread: number;
  /** Symbols without which it is not this material, the most telling one first. */
  readonly required: readonly string[];
  /** Symbols often met with it; their absence says nothing. */
  readonly companions: readonly string[];
  readonly against: readonly Counterargument[];
  /** How readily one thinks of it in paint: a judgement, and the prior of every explanation that names it (priors.ts). */
  readonly usualness: 'common' | 'occasional' | 'rare';
  /** First known use as a colour or substance, for anything; BCE negative. */
  readonly earliest: number | null;
  /** First secured use in painting, or first sale as a paint; null where nothing tells it from the first use. */
  readonly firstPainting: number | null;
  /** End of usual use in European painting. */
  readonly latest: number | null;
  readonly datesTrust: Trust;
  readonly datesSource: readonly string[];
  readonly compositionTrust: Trust;
  readonly compositionSource: readonly string[];
  readonly followUp: string;
  readonly hazard: string;
  readonly note: string;
  /** Mass fractions of the pure material, indexed by atomic number. */
  readonly fractions: MassFractions;
}

/** Materials that elements alone do not tell apart. */
export interface LookalikeSet {
  readonly members: readonly string[];
  readonly why: string;
  readonly toldApartBy: string;
  readonly source: readonly string[];
}

/** An element whose compounds call for caution. Common practice; local rules decide. */
export interface ElementHazard {
  readonly element: string;
  /**
   * Per cent by mass from which a mixture of its most harmful usual compounds is classified (Regulation (EC) No 1272/2008, Annex I, generic
   * limits: 0.1 for acute categories 1 to 3 and proved carcinogens, 0.3 for harm to the unborn, 1 for lesser; from memory); 0 where any
   * trace counts.
   */
  readonly fromPercent: number;
  readonly caution: string;
  readonly source: readonly string[];
}

/** One row of data/pigments/sources.csv: what a source key stands for. */
export interface KnowledgeSource {
  readonly key: string;
  readonly title: string;
  readonly kind: string;
  /** 'read', 'recalled', 'abstract read' ...: how the fact was taken from it. */
  readonly consulted: string;
}

/** A line coincidence met in paint, with what settles it. Escape and sum peaks have `elementB` 'artefact'. */
export interface KnownClash {
  readonly elementA: string;
  readonly lineA: string;
  readonly elementB: string;
  readonly lineB: string;
  readonly settledBy: string;
  /** Edge of the settling line, keV; usefully excited from about 1.3 times that. */
  readonly beamKev: number | null;
  readonly paintContext: string;
  readonly source: readonly string[];
}

/** An atomic ratio by which the trade knows materials: sum of `numerator` over sum of `denominator`. */
export interface KnownRatio {
  readonly id: string;
  /** Ids of the materials it speaks of. */
  readonly materials: readonly string[];
  readonly numerator: readonly string[];
  readonly denominator: readonly string[];
  /** Formulas that fix it; empty where only a range is known. */
  readonly formulas: readonly string[];
  /** Range met in the trade; null where the formulas say it. */
  readonly low: number | null;
  readonly high: number | null;
  readonly tells: string;
  readonly source: readonly string[];
  readonly trust: string;
}

/** A material as its row states it. */
export type MaterialEntry = Omit<Material, 'fractions'>;

/** Content hash of data/pigments/*.csv. */
export const PIGMENT_DATA_VERSION: string = packed.version;

/** All materials of data/pigments/materials.csv, in its order. */
export const MATERIALS: readonly Material[] = (packed.materials as readonly MaterialEntry[]).map(materialOf);

/** A material from its row, with the mass fraction of each element. */
export function materialOf(entry: MaterialEntry): Material {
  return { ...entry, fractions: mixture(entry.composition) };
}

/** Sets of materials that elements alone do not tell apart (data/pigments/lookalikes.csv). */
export const LOOKALIKE_SETS: readonly LookalikeSet[] = packed.lookalikes;
/** Elements that call for caution (data/pigments/hazards.csv). */
export const ELEMENT_HAZARDS: readonly ElementHazard[] = packed.hazards;
/** Sources of the facts (data/pigments/sources.csv). */
export const KNOWLEDGE_SOURCES: readonly KnowledgeSource[] = packed.sources;
/** Line coincidences met in paint (data/pigments/clashes.csv). */
export const KNOWN_CLASHES: readonly KnownClash[] = packed.clashes;
/** Element ratios that the trade uses (data/pigments/ratios.csv). */
export const KNOWN_RATIOS: readonly KnownRatio[] = packed.ratios;

const BY_ID = new Map(MATERIALS.map((material) => [material.id, material]));

/** The material with this id, like 'lead-white'; undefined if there is none. */
export function materialById(id: string): Material | undefined {
  return BY_ID.get(id);
}

const FORMULAS = new WeakMap<Material, string>();

/** The composition in words: one formula, or 'SiO2 67 % + K2O 15 % + ...' by mass. */
export function formulaOf(material: Material): string {
  let formula = FORMULAS.get(material);
  if (formula === undefined) FORMULAS.set(material, (formula = madeFormula(material)));
  return formula;
}

function madeFormula({ composition }: Material): string {
  if (composition.length === 1) return composition[0].formula;
  return composition
    .map(({ formula, massFraction }) => `${formula} ${Number((massFraction * 100).toPrecision(3))} %`)
    .join(' + ');
}

/** Mass fraction of an element in the pure material; 0 where it holds none. */
export function fractionIn(material: Material, symbol: string): number {
  return material.fractions[zOf(symbol) ?? 0];
}

const LOOKALIKE_SETS_OF = new Map(MATERIALS.map(({ id }) => [id, setsWith(id)]));
const LOOKALIKES = new Map(MATERIALS.map(({ id }) => [id, lookalikesFromSets(id)]));

/** The look-alike sets that this material is in, smallest first. */
export function lookalikeSetsOf(id: string): readonly LookalikeSet[] {
  return LOOKALIKE_SETS_OF.get(id) ?? [];
}

function setsWith(id: string): LookalikeSet[] {
  const sets = LOOKALIKE_SETS.filter(({ members }) => members.includes(id));
  return sets.sort((a, b) => a.members.length - b.members.length);
}

/** Other materials of the look-alike sets this one is in, each once. */
export function knownLookalikes(id: string): ReadonlySet<string> {
  return LOOKALIKES.get(id) ?? NO_LOOKALIKES;
}

const NO_LOOKALIKES: ReadonlySet<string> = new Set();

function lookalikesFromSets(id: string): Set<string> {
  const found = new Set(LOOKALIKE_SETS.filter((set) => set.members.includes(id)).flatMap((set) => set.members));
  found.delete(id);
  return found;
}
