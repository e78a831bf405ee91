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
import { grainName, shortName, within } from '../terms/names.ts';
import { capital, listed, measured, percent, significant } from '../terms/numerals.ts';

/** A standing with its reason in words, as the record has it. */
export function wordedStanding(standing: StandingData): PigmentStanding {
  return { ...standing, reason: standingReason(standing.reason) };
}

/** An explanation of the grain with its name. */
export function namedExplanation(explanation: GrainData): GrainExplanation {
  return { name: grainName(explanation.parts, explanation.perhaps), ...explanation };
}

/** Why a material is allowed or ruled out: one sentence with the numbers. */
export function standingReason(reason: StandingReason): string {
  switch (reason.kind) {
    case 'no-trace':
      return `None of the elements that ${named(reason.material)} would show is seen.`;
    case 'no-room':
      return noRoom(reason);
    case 'not-needed':
      return `Not needed${beside(reason.beside)}, and a quarter of the mass as this material would not fit the amounts: ${worse(reason.worse)}.`;
    case 'misfit':
      return `At best, ${reason.beside.length > 0 ? `${beside(reason.beside).trim()}, ` : ''}it ${misses(reason.amount, reason.held)}: ${worse(reason.worse)}.`;
    case 'not-testable':
      return reason.hidden.length > 0
        ? `Not testable: this spectrum is blind to ${listed(reason.hidden)}.`
        : 'Hardly testable: it shows only carbon and its neighbours, which resin, medium and coating also contain.';
    case 'spare':
      return `Nothing requires it: other materials explain its elements. It could still be up to ${percent(reason.most)} of the mass.`;
    case 'holds':
      return holds(reason);
  }
}

/** How much less an explanation weighs than the best one. */
const worse = (difference: number): string =>
  `2\u00a0ln(weight) is ${significant(difference, 2)} below that of the best`;

const named = (material: string): string => shortName(within(material));

const beside = (names: readonly string[]): string => (names.length > 0 ? ` with ${listed(names.map(named))}` : '');

function misses({ symbol, kind, value: fitted, limit }: Amount, held: number): string {
  const value = kind === 'at-most' ? Math.max(fitted, limit ?? 0) : fitted;
  if (symbol === WHOLE) return `would be ${percent(held)} of everything analysed`;
  if (kind === 'not-seen')
    return `would show ${percent(held)} ${symbol}, which is not seen (below ${percent(limit ?? value)})`;
  return held < value
    ? `contains ${percent(held)} ${symbol}, but ${percent(value)} is measured`
    : `would contain ${percent(held)} ${symbol}, but ${kind === 'at-most' ? 'at most ' : ''}${percent(value)} is measured`;
}

function noRoom({ material, scarce, open, expected, most }: Extract<Exclusion, { kind: 'no-room' }>): string {
  const { symbol, kind, value, limit } = scarce;
  const bound =
    kind === 'not-seen'
      ? `not seen (below ${percent(limit ?? value)})`
      : kind === 'at-most'
        ? `${open ? 'open, and ' : ''}at most ${percent(value)}`
        : `only ${percent(value)}`;
  const expectation = expected === null ? '' : `, where its other elements would require ${percent(expected)}`;
  return `${symbol} is ${bound}${expectation}: ${named(material)} can be at most ${percent(most)} of the mass.`;
}

function holds({ massFraction, beside: others, ratio, caveats }: Extract<Allowance, { kind: 'holds' }>): string {
  const company = others.length > 0 ? beside(others).trim() : 'on its own';
  const parts = [
    massFraction === null
      ? `nothing requires it, but ${company} it could be a substantial part of the grain`
      : `${company}, it accounts for the measured amounts as ${percent(massFraction)} of the mass`,
    ...(ratio
      ? [
          `${ratio.symbols} by mass is ${measured(ratio.value)}; the pure material has ${significant(ratio.expected, 2)}`,
        ]
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
      return `this spectrum is blind to ${listed(one.symbols)}`;
    case 'setting':
      return `${listed(one.symbols)} may come from the mounting`;
    case 'not-seen':
      return one.limit === null
        ? `${one.symbol} is not seen, and its limit is unknown`
        : `${one.symbol} is not seen (below ${percent(one.limit)}), which does not rule it out`;
    case 'against':
      return `${one.ratio} is ${significant(one.value, 2)}: ${one.reason}`;
  }
}
