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
  const { material, part, best } = candidate;
  const { scarcest, most } = part.room;
  if (best === null && scarcest !== null) return noRoom(material, scarcest, most, findings);
  if (best === null) return { kind: 'no-trace', material: material.name };
  const bounded = scarcest !== null && scarcest.kind !== 'at-most' && most < FAIR_PART;
  if (bounded && most < askedOf(scarcest.symbol, candidate, findings))
    return noRoom(material, scarcest, most, findings);
  const worst = best.deviations.reduce((at, value, i) => (value > best.deviations[at] ? i : at), 0);
  const beside = besideIn(candidate);
  const worse = 2 * (weighed.most - best.lnAmounts);
  if (best.deviations[worst] < NAMED_FROM) return { kind: 'not-needed', beside, worse };
  return { kind: 'misfit', beside, amount: weighed.evidence.amounts[worst], held: best.held[worst], worse };
}

/** The other materials of its best explanation. */
function besideIn({ best, part }: Candidate): string[] {
  return best!.parts.filter((other) => other !== part).map((other) => other.material.name);
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
  const shares = material.required
    .filter((other) => other !== symbol && isTelling(other))
    .flatMap((other) => {
      const value = findings.get(other)?.massFraction?.value;
      return value === undefined ? [] : [value / fractionIn(material, other)];
    });
  return shares.length === 0 ? null : Math.min(1, ...shares) * fractionIn(material, symbol);
}

/** Why a material is allowed, and how far. */
export function allowance(candidate: Candidate, findings: FindingMap): Allowance {
  const { material, part, best, needed, untestable } = candidate;
  if (untestable) {
    const telling = material.required.filter(isTelling);
    const hidden = telling.filter((symbol) => (findings.get(symbol)?.verdict ?? 'blind') === 'blind');
    if (telling.length > hidden.length) return { kind: 'spare', most: part.room.most };
    return { kind: 'not-testable', hidden };
  }
  const place = best!.parts.indexOf(part);
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
  const [a, b] = material.required.filter(isTelling).flatMap((symbol) => {
    const measured = findings.get(symbol)?.massFraction;
    return measured ? [{ symbol, ...measured }] : [];
  });
  if (b === undefined) return null;
  const value = a.value / b.value;
  const sigma = value * Math.hypot(a.sigma / a.value, b.sigma / b.value);
  const expected = fractionIn(material, a.symbol) / fractionIn(material, b.symbol);
  return { symbols: `${a.symbol}:${b.symbol}`, value: { value, sigma }, expected };
}

function caveats(material: Material, findings: FindingMap): Caveat[] {
  const required = material.required.filter(isTelling);
  const those = (test: (finding: Finding | undefined) => boolean): string[] =>
    required.filter((symbol) => test(findings.get(symbol)));
  const caveat = (kind: 'open' | 'blind' | 'setting', symbols: string[]): Caveat[] =>
    symbols.length > 0 ? [{ kind, symbols }] : [];
  return [
    ...caveat(
      'open',
      those((finding) => finding?.verdict === 'open'),
    ),
    ...caveat(
      'blind',
      those((finding) => finding === undefined || finding.verdict === 'blind'),
    ),
    ...those((finding) => finding?.verdict === 'not-seen').map((symbol): Caveat => ({
      kind: 'not-seen',
      symbol,
      limit: findings.get(symbol)?.limit?.massFraction ?? null,
    })),
    ...caveat(
      'setting',
      those((finding) => finding?.verdict === 'present' && finding.origin === 'setting'),
    ),
  ];
}

function counterarguments({ against }: Material, findings: FindingMap): Caveat[] {
  return against.flatMap(({ element, per, above, reason }): Caveat[] => {
    const [a, b] = [element, per].map((symbol) => {
      const finding = findings.get(symbol);
      const amount = finding?.verdict === 'present' ? (finding.massFraction?.value ?? 0) : 0;
      return amount / atomicWeight(zOf(symbol)!);
    });
    return b > 0 && a / b > above ? [{ kind: 'against', ratio: `${element}/${per}`, value: a / b, reason }] : [];
  });
}
