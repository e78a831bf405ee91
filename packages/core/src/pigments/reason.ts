import { atomicWeight, zOf } from '../atomic/elements.ts';
import type { Finding } from '../identify/finding.ts';
import { type Amount, isTelling } from './evidence.ts';
import { fractionIn, type Material } from './knowledge.ts';
import type { Allowance, Caveat, Exclusion } from './standing.ts';
import { type Candidate, FAIR_PART, type Weighed } from './weigh.ts';

export type FindingMap = ReadonlyMap<string, Finding>;

/** Squared deviation from which an element is named as what a mixture misses. */
const NAMED_FROM = 4;

/** Why a material is ruled out. */
export function exclusion(candidate: Candidate, weighed: Weighed, findings: FindingMap): Exclusion {
  const { material, best } = candidate;
  const { scarcest, most } = candidate.room;
  if (best === null && scarcest !== null) return noRoom(material, scarcest, most, findings);
  if (best === null) return { kind: 'no-trace', material: material.name };
  const bounded = scarcest !== null && scarcest.kind !== 'at-most' && most < FAIR_PART;
  if (bounded && most < askedOf(scarcest.symbol, candidate, findings))
    return noRoom(material, scarcest, most, findings);
  const worst = worstOf(best.deviations);
  const beside = besideIn(candidate);
  const worse = 2 * (weighed.most - best.lnAmounts);
  if (best.deviations[worst] < NAMED_FROM) return { kind: 'not-needed', beside, worse };
  return { kind: 'misfit', beside, amount: weighed.evidence.amounts[worst], held: best.held[worst], worse };
}

function worstOf(deviations: Float64Array): number {
  let worst = 0;
  for (let i = 1; i < deviations.length; i++) if (deviations[i] > deviations[worst]) worst = i;
  return worst;
}

/** The other materials of its best explanation. */
function besideIn({ best, part }: Candidate): string[] {
  const names: string[] = [];
  for (const other of best!.parts) if (other !== part) names.push(other.material.name);
  return names;
}

/** An element that leaves no room for more than a trace of the material. */
function noRoom(material: Material, scarce: Amount, most: number, findings: FindingMap): Exclusion {
  return {
    kind: 'no-room',
    material: material.name,
    scarce,
    open: findings.get(scarce.symbol)?.verdict === 'open',
    expected: expectedOf(scarce.symbol, material, findings),
    most,
  };
}

/** As much of a material as its other required elements ask for; where none is measured, as it would hold alone. Mass fraction. */
function askedOf(symbol: string, { material, alone }: Candidate, findings: FindingMap): number {
  const expected = expectedOf(symbol, material, findings);
  return expected === null ? alone!.held[0] : expected / fractionIn(material, symbol);
}

/** Mass fraction of an element that the other required ones of a material ask for; null where none is measured. */
function expectedOf(symbol: string, material: Material, findings: FindingMap): number | null {
  let [most, known] = [1, false];
  for (const other of material.required) {
    const value = findings.get(other)?.massFraction?.value;
    if (other === symbol || value === undefined || !isTelling(other)) continue;
    most = Math.min(most, value / fractionIn(material, other));
    known = true;
  }
  return known ? most * fractionIn(material, symbol) : null;
}

/** Why a material is allowed, and how far. */
export function allowance(candidate: Candidate, findings: FindingMap): Allowance {
  const { material, room, part, best, needed, untestable } = candidate;
  if (untestable) {
    const telling = material.required.filter(isTelling);
    const hidden = telling.filter((symbol) => (findings.get(symbol)?.verdict ?? 'blind') === 'blind');
    if (telling.length > hidden.length) return { kind: 'spare', most: room.most };
    return { kind: 'not-testable', hidden };
  }
  const place = best!.parts.indexOf(part!);
  return {
    kind: 'holds',
    massFraction: needed ? best!.fractions[place] : null,
    beside: besideIn(candidate),
    ratio: ratioOf(material, findings),
    caveats: [...caveats(material, findings), ...counterarguments(material, findings)],
  };
}

/** The first two required elements against each other, by mass. */
function ratioOf(material: Material, findings: FindingMap): Extract<Allowance, { kind: 'holds' }>['ratio'] {
  let first: string | null = null;
  for (const symbol of material.required) {
    if (!isTelling(symbol) || !findings.get(symbol)?.massFraction) continue;
    if (first !== null) return ratioIn(material, first, symbol, findings);
    first = symbol;
  }
  return null;
}

/** Of two elements that were measured. */
function ratioIn(material: Material, above: string, below: string, findings: FindingMap) {
  const [a, b] = [findings.get(above)!.massFraction!, findings.get(below)!.massFraction!];
  const value = a.value / b.value;
  const sigma = value * Math.hypot(a.sigma / a.value, b.sigma / b.value);
  const expected = fractionIn(material, above) / fractionIn(material, below);
  return { symbols: `${above}:${below}`, value: { value, sigma }, expected };
}

function caveats(material: Material, findings: FindingMap): Caveat[] {
  const [open, blind, setting]: [string[], string[], string[]] = [[], [], []];
  const hidden: Caveat[] = [];
  for (const symbol of material.required) {
    if (!isTelling(symbol)) continue;
    const finding = findings.get(symbol);
    if (finding === undefined || finding.verdict === 'blind') blind.push(symbol);
    else if (finding.verdict === 'open') open.push(symbol);
    else if (finding.verdict === 'not-seen')
      hidden.push({ kind: 'not-seen', symbol, limit: finding.limit?.massFraction ?? null });
    else if (finding.origin === 'setting') setting.push(symbol);
  }
  return [...caveat('open', open), ...caveat('blind', blind), ...hidden, ...caveat('setting', setting)];
}

const caveat = (kind: 'open' | 'blind' | 'setting', symbols: string[]): Caveat[] =>
  symbols.length > 0 ? [{ kind, symbols }] : [];

function counterarguments({ against }: Material, findings: FindingMap): Caveat[] {
  const made: Caveat[] = [];
  for (const { element, per, above, reason } of against) {
    const [a, b] = [molesOf(element, findings), molesOf(per, findings)];
    if (b > 0 && a / b > above) made.push({ kind: 'against', ratio: `${element}/${per}`, value: a / b, reason });
  }
  return made;
}

/** Per gram of what was analysed; 0 where it is not present. */
function molesOf(symbol: string, findings: FindingMap): number {
  const finding = findings.get(symbol);
  const amount = finding?.verdict === 'present' ? (finding.massFraction?.value ?? 0) : 0;
  return amount / atomicWeight(zOf(symbol)!);
}
