import type { Amount } from '../../pigments/evidence.ts';
import { WHOLE } from '../../pigments/evidence.ts';
import type {
  Allowance,
  Caveat,
  Exclusion,
  GrainData,
  GrainExplanation,
  PigmentStanding,
  StandingData,
  StandingReason,
} from '../../pigments/standing.ts';
import { grainName, within } from '../terms/names.ts';
import { capital, listed, measured, percent, significant } from '../terms/numerals.ts';

/** A standing with its reason in words, as the record has it. */
export function wordedStanding(standing: StandingData): PigmentStanding {
  return { ...standing, reason: standingReason(standing.reason) };
}

/** An explanation of the grain with its name. */
export function namedExplanation(explanation: GrainData): GrainExplanation {
  return { name: grainName(explanation.parts), ...explanation };
}

/** Why a material is allowed or ruled out: one sentence with the numbers. */
export function standingReason(reason: StandingReason): string {
  switch (reason.kind) {
    case 'no-trace':
      return `Nothing is seen of what ${within(reason.material)} would show.`;
    case 'no-room':
      return noRoom(reason);
    case 'not-needed':
      return `Not needed${beside(reason.beside)}, and a quarter of it would not fit the amounts: ${worse(reason.worse)}.`;
    case 'misfit':
      return `At its best${beside(reason.beside)} it ${misses(reason.amount, reason.held)}: ${worse(reason.worse)}.`;
    case 'not-testable':
      return reason.hidden.length > 0
        ? `Not testable: this spectrum cannot tell ${listed(reason.hidden)}.`
        : 'Hardly testable: it shows only carbon and its neighbours, which resin, medium and coating bring as well.';
    case 'spare':
      return `Nothing requires it: others explain its elements, beside which up to ${percent(reason.most)} of the mass could be it.`;
    case 'holds':
      return holds(reason);
  }
}

/** How much less an explanation weighs than the best one. */
const worse = (difference: number): string => `2\u00a0ln(weight) is ${significant(difference, 2)} below the best`;

const beside = (names: readonly string[]): string => (names.length > 0 ? ` beside ${listed(names.map(within))}` : '');

function misses({ symbol, kind, value: fitted, limit }: Amount, held: number): string {
  const value = kind === 'at-most' ? Math.max(fitted, limit ?? 0) : fitted;
  if (symbol === WHOLE) return `would be ${percent(held)} of all that was analysed`;
  if (kind === 'not-seen')
    return `would show ${percent(held)} ${symbol}, which is not seen (below ${percent(limit ?? value)})`;
  return held < value
    ? `holds ${percent(held)} ${symbol}, where ${percent(value)} is measured`
    : `would hold ${percent(held)} ${symbol}, where ${kind === 'at-most' ? 'at most ' : ''}${percent(value)} is measured`;
}

function noRoom({ material, scarce, open, expected, most }: Extract<Exclusion, { kind: 'no-room' }>): string {
  const { symbol, kind, value, limit } = scarce;
  const bound =
    kind === 'not-seen'
      ? `not seen (below ${percent(limit ?? value)})`
      : kind === 'at-most'
        ? `${open ? 'open, and ' : ''}at most ${percent(value)}`
        : `only ${percent(value)}`;
  const expectation = expected === null ? '' : `, where ${percent(expected)} would go with its other elements`;
  return `${symbol} is ${bound}${expectation}: ${within(material)} can be at most ${percent(most)} of the mass.`;
}

function holds({ massFraction, beside: others, ratio, caveats }: Extract<Allowance, { kind: 'holds' }>): string {
  const company = others.length > 0 ? beside(others).trim() : 'alone';
  const parts = [
    massFraction === null
      ? `nothing requires it, but ${company} it could be a fair part of the grain`
      : `${company} it accounts for the measured amounts, as ${percent(massFraction)} of the mass`,
    ...(ratio
      ? [`${ratio.symbols} by mass is ${measured(ratio.value)}, in the pure material ${significant(ratio.expected, 2)}`]
      : []),
    ...caveats.map(caveat),
  ];
  return `${capital(parts.join('; '))}.`;
}

function caveat(one: Caveat): string {
  switch (one.kind) {
    case 'open':
      return `${listed(one.symbols)} ${one.symbols.length > 1 ? 'are' : 'is'} open`;
    case 'blind':
      return `this spectrum cannot tell ${listed(one.symbols)}`;
    case 'setting':
      return `${listed(one.symbols)} may come from the mounting`;
    case 'not-seen':
      return one.limit === null
        ? `${one.symbol} is not seen, its limit unknown`
        : `${one.symbol} is not seen (below ${percent(one.limit)}), which does not rule it out`;
    case 'against':
      return `${one.ratio} is ${significant(one.value, 2)}: ${one.reason}`;
  }
}
