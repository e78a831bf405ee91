import type { Measured } from '../identify/finding.ts';
import type { Material } from './knowledge.ts';
import type { Requirement } from './requirement.ts';
import type { Weight } from './weigh.ts';

/** Why a material is ruled out, one sentence; null when nothing rules it out. */
export function exclusion({ name }: Material, { requirements, shortfall }: Weight): string | null {
  const missing = requirements.filter(({ state }) => state === 'missing');
  if (missing.length > 0) {
    const [{ symbol, fraction, expected, limit, open }] = missing;
    const state = `${symbol} is ${open ? 'at most a trace' : 'not seen'} (below ${percent(limit!)})`;
    const alone = requirements.every(({ measured }) => measured === null);
    const expectation = alone ? '' : `, where ${percent(expected!)} would go with its other elements`;
    const rest = missing.length > 1 ? `, nor is there enough ${list(missing.slice(1).map((r) => r.symbol))}` : '';
    return `${state}${expectation}${rest}: at most ${percent(limit! / fraction)} of the mass can be ${name}.`;
  }
  if (shortfall !== null) {
    const { of, to, carried } = shortfall;
    return (
      `Too little ${of.symbol} for ${name} to carry the ${to.symbol}: ${of.symbol}:${to.symbol} by mass ` +
      `${ratio(of, to)}, expected ${short(of.fraction / to.fraction)}; it can carry ${percent(carried)} of the ${to.symbol}.`
    );
  }
  return null;
}

/** Why a material is allowed, and how far: one sentence. */
export function allowance(weight: Weight): string {
  const { requirements, telling, explained, against, leftOver } = weight;
  if (!telling)
    return 'Only carbon and its neighbours are needed, which resin, medium and coating bring as well: hardly testable here.';
  const parts = [seen(requirements), ratioPart(weight), ...caveats(requirements)];
  for (const { element, per, measured, reason } of against)
    parts.push(`${element}/${per} is ${short(measured)}: ${reason}`);
  if (explained > 0) parts.push(`explains ${percent(explained)} of the visible mass`);
  if (leftOver.length > 0)
    parts.push(`another material must bring ${list(leftOver.slice(0, 3).map(({ symbol }) => symbol))}`);
  const text = parts.filter((part) => part !== '').join('; ');
  return `${text[0].toUpperCase()}${text.slice(1)}.`;
}

function seen(requirements: readonly Requirement[]): string {
  const met = requirements.filter(({ state }) => state === 'met').map(({ symbol }) => symbol);
  if (met.length === 0) return 'none of its elements is certain';
  return `${list(met)} ${met.length === 1 ? 'is' : 'are'} present`;
}

/** The ratio that deviates most from the formula, with what was expected. */
function ratioPart({ requirements }: Weight): string {
  const measured = requirements.filter((requirement) => requirement.measured !== null);
  if (measured.length < 2) return '';
  const [first, ...others] = measured;
  const deviation = (other: Requirement) =>
    Math.abs(Math.log((other.measured!.value * first.fraction) / (first.measured!.value * other.fraction)));
  const other = others.reduce((worst, next) => (deviation(next) > deviation(worst) ? next : worst));
  return `${first.symbol}:${other.symbol} by mass ${ratio(first, other)}, expected ${short(first.fraction / other.fraction)}`;
}

function caveats(requirements: readonly Requirement[]): string[] {
  const told = (state: Requirement['state']) => requirements.filter((r) => r.state === state);
  const parts: string[] = [];
  const names = (some: readonly Requirement[]) => list(some.map(({ symbol }) => symbol));
  const [unsure, hidden, faint] = [told('unsure'), told('hidden'), told('faint')];
  const setting = requirements.filter(({ fromSetting }) => fromSetting);
  if (unsure.length > 0) parts.push(`${names(unsure)} ${unsure.length === 1 ? 'is' : 'are'} open`);
  if (hidden.length > 0) parts.push(`this spectrum cannot tell ${names(hidden)}`);
  for (const { symbol, expected, limit } of faint)
    parts.push(
      limit === null
        ? `${symbol} is not seen, its limit is unknown`
        : `${symbol} is not seen, but ${percent(expected!)} expected against a limit of ${percent(limit)} does not exclude it`,
    );
  if (setting.length > 0) parts.push(`${names(setting)} may come from the mounting`);
  return parts;
}

/** 'a ± b': measured mass ratio with its standard uncertainty. */
function ratio(top: Requirement, bottom: Requirement): string {
  const value = top.measured!.value / bottom.measured!.value;
  const relative = Math.hypot(relativeSigma(top.measured!), relativeSigma(bottom.measured!));
  return `${short(value)} ± ${short(value * relative)}`;
}

function relativeSigma({ value, sigma }: Measured): number {
  return sigma / value;
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
