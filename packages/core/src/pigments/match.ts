import type { ElementFinding } from '../identify/finding.ts';
import { formulaOf, knownLookalikes, type Material, MATERIALS } from './knowledge.ts';
import { allowance, exclusion } from './reason.ts';
import { type FindingMap, requirementsOf } from './requirement.ts';
import type { PigmentStanding } from './standing.ts';
import { isTelling, seenAmounts, type SeenAmount, weigh, type Weight } from './weigh.ts';

export interface MatchContext {
  /** What the grain sits on or in, in words or symbols ('carbon', 'epoxy', 'Au'); empty or absent: not stated. */
  readonly mount?: readonly string[];
}

/** Score factor of a contaminant that a stated mounting does not mention. Chosen, as the others in weigh.ts. */
const UNMENTIONED_FACTOR = 0.6;

interface Likenesses {
  /** Ids of the allowed materials by their visible required elements. */
  readonly groups: ReadonlyMap<string, string[]>;
  readonly allowed: ReadonlySet<string>;
}

/** Classes by how readily one thinks of them for a grain of paint. */
const USUAL_FIRST = ['pigment', 'lake', 'ground', 'metal', 'filler', 'drier', 'alteration', 'contaminant'];

interface Candidate {
  readonly material: Material;
  readonly weight: Weight;
  readonly excluded: string | null;
  readonly score: number;
}

/**
 * What one spectrum allows and rules out of all known materials, from the verdicts, limits and mass fractions of its
 * elements. Allowed ones first, by falling score, at equal score what was painted with before what it turned into or came
 * with, then by id; then those ruled out, by id. Deterministic.
 */
export function matchPigments(findings: readonly ElementFinding[], context: MatchContext = {}): PigmentStanding[] {
  const bySymbol: FindingMap = new Map(findings.map((finding) => [finding.symbol, finding]));
  const seen = seenAmounts(findings);
  const candidates = MATERIALS.map((material) => candidateOf(material, bySymbol, seen, context));
  const allowed = candidates.filter(({ excluded }) => excluded === null);
  const likenesses = { groups: groupByElements(allowed), allowed: new Set(allowed.map(({ material }) => material.id)) };
  return candidates
    .map((candidate) => standingOf(candidate, likenesses))
    .sort(
      (a, b) =>
        Number(a.standing === 'ruled-out') - Number(b.standing === 'ruled-out') ||
        b.score - a.score ||
        USUAL_FIRST.indexOf(a.class) - USUAL_FIRST.indexOf(b.class) ||
        (a.id < b.id ? -1 : 1),
    );
}

function candidateOf(
  material: Material,
  findings: FindingMap,
  seen: readonly SeenAmount[],
  context: MatchContext,
): Candidate {
  const weight = weigh(material, requirementsOf(material, findings), findings, seen);
  const excluded = exclusion(material, weight);
  const factor = isUnmentioned(material, context.mount ?? []) ? UNMENTIONED_FACTOR : 1;
  return { material, weight, excluded, score: excluded === null ? round(weight.score * factor) : 0 };
}

/** A contaminant shares no word ('gold' of 'gold-coat') and no required element with a mounting that is stated. */
function isUnmentioned({ class: kind, id, name, required }: Material, mount: readonly string[]): boolean {
  if (kind !== 'contaminant' || mount.length === 0) return false;
  const own = new Set([...required, ...`${id} ${name}`.toLowerCase().split(/[^a-z]+/)]);
  return !mount.some(
    (entry) => own.has(entry) || entry.split(/[^A-Za-z]+/).some((word) => own.has(word.toLowerCase())),
  );
}

/** Ids of the allowed materials by their visible required elements. */
function groupByElements(allowed: readonly Candidate[]): Map<string, string[]> {
  const groups = new Map<string, string[]>();
  for (const { material } of allowed) {
    const key = visibleElements(material);
    groups.set(key, [...(groups.get(key) ?? []), material.id]);
  }
  return groups;
}

function visibleElements({ required }: Material): string {
  return required.filter(isTelling).sort().join(' ');
}

function standingOf({ material, weight, excluded, score }: Candidate, likenesses: Likenesses): PigmentStanding {
  return {
    id: material.id,
    name: material.name,
    formula: formulaOf(material),
    class: material.class,
    hue: material.hue,
    standing: excluded === null ? 'allowed' : 'ruled-out',
    score,
    reason: excluded ?? allowance(weight),
    lookalikes: excluded === null ? lookalikesOf(material, likenesses) : [],
    followUp: material.followUp,
    hazard: material.hazard,
    earliestUse: material.earliest,
    latestUse: material.latest,
  };
}

/** Allowed materials with the same visible required elements, and those the knowledge names, sorted by id. */
function lookalikesOf(material: Material, { groups, allowed }: Likenesses): string[] {
  const same = groups.get(visibleElements(material)) ?? [];
  const known = [...knownLookalikes(material.id)].filter((id) => allowed.has(id));
  return [...new Set([...same, ...known])].filter((id) => id !== material.id).sort();
}

function round(score: number): number {
  return Math.round(score * 1e4) / 1e4;
}
