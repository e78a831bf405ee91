import { atomicWeight, zOf } from '../atomic/elements.ts';
import type { ElementFinding } from '../identify/finding.ts';
import { type Amount, isTelling, WHOLE } from './evidence.ts';
import { fractionIn, type Material } from './knowledge.ts';
import type { Candidate, Weighed } from './weigh.ts';
import { FAIR_PART } from './weigh.ts';

export type FindingMap = ReadonlyMap<string, ElementFinding>;

/** Deviation of an element, squared, from which it is named as what a mixture misses. */
const NAMED_FROM = 4;

/** Why a material is ruled out, one sentence with the numbers. */
export function exclusion(candidate: Candidate, weighed: Weighed, findings: FindingMap): string {
  const { material, part, best, alone } = candidate;
  const { scarcest, most } = part.room;
  if (best === null && scarcest !== null) return noRoom(material, scarcest, most, findings);
  if (best === null) return `Nothing is seen of what ${material.name} would show.`;
  const { amounts } = weighed.evidence;
  const held = alone!.held[0];
  const bounded = scarcest !== null && scarcest.kind !== 'at-most' && most < FAIR_PART;
  if (bounded && most < held) return noRoom(material, scarcest, most, findings);
  const worst = best.deviations.reduce((at, value, i) => (value > best.deviations[at] ? i : at), 0);
  const beside = best.parts.filter((other) => other !== part).map((other) => other.material.name);
  const company = beside.length > 0 ? ` (with ${list(beside)})` : '';
  const worse = `${short(2 * (weighed.mixtures[0].lnWeight - best.lnWeight))} worse (-2 ln of the weight) than the best explanation`;
  if (best.deviations[worst] < NAMED_FROM)
    return `It is not needed beside ${list(beside)}, and a quarter of it does not agree with the amounts: ${worse}.`;
  return `The best mixture with ${material.name}${company} ${misses(amounts[worst], best.held[worst])}: ${worse}.`;
}

function misses({ symbol, kind, value: fitted, limit }: Amount, held: number): string {
  const value = kind === 'at-most' ? Math.max(fitted, limit ?? 0) : fitted;
  if (symbol === WHOLE) return `would have to be ${percent(held)} of all that was analysed`;
  if (kind === 'not-seen')
    return `would show ${percent(held)} ${symbol}, which is not seen (below ${percent(limit ?? value)})`;
  return held < value
    ? `holds ${percent(held)} ${symbol}, where ${percent(value)} is measured`
    : `would hold ${percent(held)} ${symbol}, where ${kind === 'at-most' ? 'at most ' : ''}${percent(value)} is measured`;
}

/** An element that leaves no room for more than a trace of the material. */
function noRoom(material: Material, scarce: Amount, most: number, findings: FindingMap): string {
  const { symbol, kind, value, limit } = scarce;
  const open = findings.get(symbol)?.verdict === 'open';
  const bound =
    kind === 'not-seen'
      ? `not seen (below ${percent(limit ?? value)})`
      : kind === 'at-most'
        ? `${open ? 'open, and ' : ''}at most ${percent(value)}`
        : `only ${percent(value)}`;
  const expected = expectedOf(symbol, material, findings);
  const expectation = expected === null ? '' : `, where ${percent(expected)} would go with its other elements`;
  return `${symbol} is ${bound}${expectation}: at most ${percent(most)} of the mass can be ${material.name}.`;
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

/** Why a material is allowed, and how far: one sentence. */
export function allowance(candidate: Candidate, findings: FindingMap): string {
  const { material, part, best, needed, untestable } = candidate;
  if (untestable) {
    const hidden = material.required.filter(isTelling);
    if (hidden.length > 0) return `This spectrum cannot tell ${list(hidden)}: not testable here.`;
    return 'Only carbon and its neighbours are needed, which resin, medium and coating bring as well: hardly testable here.';
  }
  const beside = best!.parts.filter((other) => other !== part).map((other) => other.material.name);
  const place = best!.parts.indexOf(part);
  const company = beside.length > 0 ? `beside ${list(beside)}` : 'alone';
  const parts = needed
    ? [`${company} it holds the measured amounts, as ${percent(best!.fractions[place])} of the mass`]
    : [`nothing needs it, but ${company} it may make up a fair part of the grain`];
  const ratio = ratioPart(material, findings);
  if (ratio !== '') parts.push(ratio);
  parts.push(...caveats(material, findings), ...counterarguments(material, findings));
  const text = parts.join('; ');
  return `${text[0].toUpperCase()}${text.slice(1)}.`;
}

/** The first two required elements against each other, by mass. */
function ratioPart(material: Material, findings: FindingMap): string {
  const [a, b] = material.required.filter(isTelling).flatMap((symbol) => {
    const measured = findings.get(symbol)?.massFraction;
    return measured ? [{ symbol, ...measured }] : [];
  });
  if (b === undefined) return '';
  const value = a.value / b.value;
  const sigma = value * Math.hypot(a.sigma / a.value, b.sigma / b.value);
  const expected = fractionIn(material, a.symbol) / fractionIn(material, b.symbol);
  return `${a.symbol}:${b.symbol} by mass ${short(value)} ± ${short(sigma)}, in it ${short(expected)}`;
}

function caveats(material: Material, findings: FindingMap): string[] {
  const required = material.required.filter(isTelling);
  const with_ = (test: (finding: ElementFinding | undefined) => boolean): string[] =>
    required.filter((symbol) => test(findings.get(symbol)));
  const blind = with_((finding) => finding === undefined || finding.verdict === 'blind');
  const open = with_((finding) => finding?.verdict === 'open');
  const faint = with_((finding) => finding?.verdict === 'not-seen');
  const setting = with_((finding) => finding?.verdict === 'present' && finding.origin === 'setting');
  return [
    ...(open.length > 0 ? [`${list(open)} ${open.length > 1 ? 'are' : 'is'} open`] : []),
    ...(blind.length > 0 ? [`this spectrum cannot tell ${list(blind)}`] : []),
    ...faint.map((symbol) => {
      const limit = findings.get(symbol)?.limit?.massFraction;
      return limit === undefined
        ? `${symbol} is not seen, its limit is unknown`
        : `${symbol} is not seen (below ${percent(limit)}), which does not exclude it`;
    }),
    ...(setting.length > 0 ? [`${list(setting)} may come from the mounting`] : []),
  ];
}

function counterarguments({ against }: Material, findings: FindingMap): string[] {
  return against.flatMap(({ element, per, above, reason }) => {
    const [a, b] = [element, per].map((symbol) => {
      const finding = findings.get(symbol);
      const amount = finding?.verdict === 'present' ? (finding.massFraction?.value ?? 0) : 0;
      return amount / atomicWeight(zOf(symbol)!);
    });
    return b > 0 && a / b > above ? [`${element}/${per} is ${short(a / b)}: ${reason}`] : [];
  });
}

function percent(fraction: number): string {
  return `${short(fraction * 100)} %`;
}

function short(value: number): string {
  return String(Number(value.toPrecision(2)));
}

function list(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
}
