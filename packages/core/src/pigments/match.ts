import type { Finding, Measured } from '../identify/finding.ts';
import { areAlike } from './alike.ts';
import { isTelling } from './evidence.ts';
import { areFamily } from './family.ts';
import { inOrder } from './colour-giving.ts';
import { type Combination, type Group, grouped } from './group.ts';
import { formulaOf, knownLookalikes, lookalikeSetsOf, type Material, MATERIALS } from './knowledge.ts';
import type { Mixture } from './mixture.ts';
import type { Shared } from './same-grain.ts';
import type { Part } from './part.ts';
import { allowance, exclusion, type FindingMap } from './reason.ts';
import type { ExplanationShare, GrainData, GrainExplanation, StandingData } from './standing.ts';
import type { ObservationTerm } from './explanations.ts';
import { type Candidate, weigher, type Weighed, type WeighOptions } from './weigh.ts';

export interface MatchContext extends WeighOptions {
  /** The materials to choose from; all known ones if left out. */
  readonly materials?: readonly Material[];
  /** What else was seen of the grain; nothing if left out. */
  readonly observed?: ObservationTerm;
}

/** What one spectrum says about the materials, and about the grain as a whole. */
export interface Match {
  /** Allowed ones first, group by group, then those ruled out by id. */
  readonly pigments: StandingData[];
  /** Best explanations of the grain, best first, no two of the same groups. */
  readonly explanations: GrainData[];
  /** Every set of materials with its share of the weight of all; the shares add up to 1. */
  readonly shares: ExplanationShare[];
}

/** Share of an explanation's weight from which another material in a place is worth keeping. */
const LEAST_SHARE = 0.02;
/** Squared deviation from which an element counts as left over. */
const LEFT_FROM = 4;

/** What one spectrum allows and rules out of all known materials. Deterministic. */
export function matchPigments(findings: readonly Finding[], context: MatchContext = {}): StandingData[] {
  return matchGrain(findings, context).pigments;
}

/**
 * Matches materials, alone and in mixtures of up to four beside medium and mounting, to the amounts that a spectrum's findings
 * state. The amounts are the fit's, per unit of mass fraction in the matrix they make up, so that holding them against the
 * stoichiometry is the forward model at the spectrum's own beam, take-off angle and absorption; each amount counts with its own
 * uncertainty by counting, by the physics and by the spread of the material. Deterministic.
 */
export function matchGrain(findings: readonly Finding[], context: MatchContext = {}): Match {
  return matcherOf(findings, context)(context.observed);
}

/** The same, its amounts weighed once, for one thing after another that may have been seen besides. */
export function matcherOf(
  findings: readonly Finding[],
  context: MatchContext = {},
): (observed?: ObservationTerm) => Match {
  const bySymbol: FindingMap = new Map(findings.map((finding) => [finding.symbol, finding]));
  const weighing = weigher(findings, context.materials ?? MATERIALS, context);
  return (observed) => matchOf(weighing(observed), bySymbol, observed);
}

function matchOf(weighed: Weighed, bySymbol: FindingMap, observed?: ObservationTerm): Match {
  const { groups, combinations, shared } = grouped(weighed);
  const explanations = combinations.map((combination) => explanationOf(combination, groups, weighed, observed));
  const pigments = [...allowedIn(groups, weighed, bySymbol), ...ruledOutIn(weighed, bySymbol)];
  return { pigments, explanations, shares: sharesOf(shared) };
}

function allowedIn(groups: readonly Group[], weighed: Weighed, bySymbol: FindingMap): StandingData[] {
  const allowed = new Map<string, Candidate>();
  for (const { members } of groups) for (const candidate of members) allowed.set(candidate.material.id, candidate);
  const standings: StandingData[] = [];
  for (let g = 0; g < groups.length; g++) {
    const { members, score } = groups[g];
    for (const candidate of members) {
      const lookalikes = lookalikesOf(candidate, members, allowed, weighed);
      standings.push(allowedStanding(candidate, score, g + 1, lookalikes, weighed, bySymbol));
    }
  }
  return standings;
}

/** By id. */
function ruledOutIn(weighed: Weighed, bySymbol: FindingMap): StandingData[] {
  const standings: StandingData[] = [];
  for (const candidate of weighed.candidates)
    if (!candidate.allowed) standings.push(ruledOutStanding(candidate, weighed, bySymbol));
  return standings.sort(byId);
}

const byId = (a: StandingData, b: StandingData): number => (a.id < b.id ? -1 : 1);

function sharesOf(shared: readonly Shared[]): ExplanationShare[] {
  const shares: ExplanationShare[] = [];
  for (const { mixture, materials, share } of shared) {
    const parts: { id: string; massFraction: number }[] = [];
    for (let m = 0; m < materials.length; m++)
      parts.push({ id: materials[m].material.id, massFraction: mixture.fractions[m] });
    shares.push({ parts, share });
  }
  return shares;
}

/**
 * Those of its group, and stated look-alikes that fit these amounts alike by themselves. One of another group that needs a partner for
 * these amounts is another explanation, not this one by another name.
 */
function lookalikesOf(
  { material, alone }: Candidate,
  group: readonly Candidate[],
  allowed: ReadonlyMap<string, Candidate>,
  { evidence }: Weighed,
): string[] {
  const ids = new Set<string>();
  for (const member of group) ids.add(member.material.id);
  for (const id of knownLookalikes(material.id)) {
    const other = allowed.get(id)?.alone ?? null;
    if (alone !== null && other !== null && areAlike(alone, other, evidence)) ids.add(id);
  }
  ids.delete(material.id);
  return [...ids].sort();
}

/* Standings are written out: there are hundreds in a match, and one that is put together from others takes the engine several times as long. */

function allowedStanding(
  candidate: Candidate,
  score: number,
  group: number,
  lookalikes: string[],
  weighed: Weighed,
  findings: FindingMap,
): StandingData {
  const { material, best, part, needed } = candidate;
  return {
    id: material.id,
    name: material.name,
    formula: formulaOf(material),
    class: material.class,
    hue: material.hue,
    required: [...material.required],
    followUp: material.followUp,
    hazard: material.hazard,
    earliestUse: material.earliest,
    latestUse: material.latest,
    standing: 'allowed',
    score: round(score),
    group,
    massFraction: best !== null && needed ? fractionOf(best, best.parts.indexOf(part!)) : null,
    beside: best === null ? [] : besideOf(best, part),
    deltaC: deltaOf(best, weighed),
    reason: allowance(candidate, findings),
    lookalikes,
    toldApartBy: techniques(material.id, lookalikes),
  };
}

/** Ids of the other parts. */
function besideOf({ parts }: Mixture, part: Part | null): string[] {
  const ids: string[] = [];
  for (const other of parts) if (other !== part) ids.push(other.material.id);
  return ids;
}

function ruledOutStanding(candidate: Candidate, weighed: Weighed, findings: FindingMap): StandingData {
  const { material, best } = candidate;
  return {
    id: material.id,
    name: material.name,
    formula: formulaOf(material),
    class: material.class,
    hue: material.hue,
    required: [...material.required],
    followUp: material.followUp,
    hazard: material.hazard,
    earliestUse: material.earliest,
    latestUse: material.latest,
    score: 0,
    group: null,
    massFraction: null,
    beside: [],
    lookalikes: [],
    toldApartBy: [],
    standing: 'ruled-out',
    deltaC: deltaOf(best, weighed),
    reason: exclusion(candidate, weighed, findings),
  };
}

function deltaOf(best: Mixture | null, { most }: Weighed): number | null {
  return best === null ? null : round(Math.max(0, 2 * (most - best.lnAmounts)));
}

/** What tells the material from each other: what the smallest stated set of look-alikes that holds both says. */
function techniques(id: string, lookalikes: readonly string[]): string[] {
  const told = new Set<string>();
  const sets = lookalikeSetsOf(id);
  for (const other of lookalikes) {
    const set = sets.find(({ members }) => members.includes(other));
    if (set !== undefined) told.add(set.toldApartBy);
  }
  return [...told];
}

function explanationOf(
  { best, groups: own, score, explanations, perhaps }: Combination,
  groups: readonly Group[],
  { evidence }: Weighed,
  observed: ObservationTerm = () => 0,
): GrainData {
  const { mixture, materials } = best;
  const parts = inOrder(
    materials.map(({ material }, m) => ({ material, place: m, massFraction: mixture.fractions[m] })),
    (part) => observed([part]),
  ).map(({ material: { id, name }, place }) => ({
    id,
    name,
    group: groups.indexOf(own[place]) + 1,
    massFraction: fractionOf(mixture, place),
    others: othersIn(materials[place].material, score, explanations),
  }));
  const met = evidence.amounts.filter(({ kind }) => kind === 'measured').length;
  return {
    parts,
    perhaps: perhaps.map(({ material: { id, name }, share }) => ({ id, name, share: round(share) })),
    score: round(score),
    chi2: round(mixture.chi2),
    degrees: Math.max(0, met - parts.length),
    leftOver: leftOverOf(mixture, evidence.amounts),
  };
}

/** What else of its family stands in the place of a part in explanations of the same grain, likeliest first. */
function othersIn(
  own: Material,
  score: number,
  explanations: Combination['explanations'],
): GrainData['parts'][number]['others'] {
  const shares = new Map<Material, number>();
  for (const { materials, share } of explanations)
    for (const { material } of materials) shares.set(material, (shares.get(material) ?? 0) + share);
  return [...shares]
    .filter(([material, share]) => share > LEAST_SHARE * score && material !== own && areFamily(material, own))
    .sort((a, b) => b[1] - a[1])
    .map(([{ id, name }, share]) => ({ id, name, share: round(share / score) }));
}

function leftOverOf(
  { held, deviations }: Mixture,
  amounts: Weighed['evidence']['amounts'],
): GrainExplanation['leftOver'] {
  return amounts
    .flatMap(({ symbol, kind, value }, i) =>
      kind === 'measured' && isTelling(symbol) && deviations[i] > LEFT_FROM && held[i] < value / 2
        ? [{ symbol, massFraction: value - held[i] }]
        : [],
    )
    .sort((a, b) => b.massFraction - a.massFraction);
}

/** Of what was analysed; of the mixture where its parts add up to more, by their oxygen that was not recorded or by doubt. */
function fractionOf({ fractions, relative }: Mixture, m: number): Measured {
  const value =
    fractions[m] /
    Math.max(
      1,
      fractions.reduce((sum, part) => sum + part, 0),
    );
  return { value, sigma: value * relative[m] };
}

function round(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}
