import { elementName } from '../atomic/elements.ts';
import type { ElementFinding, Rival, SettlingLine } from '../identify/finding.ts';
import { MATERIALS } from '../pigments/knowledge.ts';
import { tabulate, wrap } from './layout.ts';
import { fixed, keV, listed, measured, percent, probabilityText } from './numerals.ts';
import type { LimnerRecord } from '../record/record.ts';
import { findingsWith, reasonSentence, rivalName } from './sentences.ts';

/** What a reading prints at most; the record has all. */
const MOST_SETTLING = { present: 1, open: 2, 'not-seen': 0, blind: 0 };
const MOST_LIMITS = 12;
/** Rivals of more elements are no explanation anyone would hold: their settling lines are left out. */
const MOST_ELEMENTS = 3;

const HEADINGS = ['', '', 'verdict', 'probability', 'counts', '% by mass', 'strongest lines, keV'];

/** The elements that are present or open: one row each, and below it why, and against what. */
export function elementLines(record: LimnerRecord): string[] {
  const findings = [...findingsWith(record, 'present'), ...findingsWith(record, 'open')];
  if (findings.length === 0) return ['  none'];
  const rows = tabulate(
    [HEADINGS, ...findings.map(elementRow)],
    ['left', 'left', 'left', 'right', 'right', 'right', 'left'],
    2,
  );
  return [rows[0], ...findings.flatMap((finding, i) => [rows[i + 1], ...argument(finding)])];
}

function elementRow(finding: ElementFinding): string[] {
  const { symbol, z, verdict, probability, counts, massFraction, lines } = finding;
  return [
    symbol,
    elementName(z),
    verdict,
    probabilityText(probability),
    measured(counts),
    massFraction ? measured(massFraction, 100) : '',
    lines
      .slice(0, 2)
      .map(({ line, energyEv }) => `${line} ${fixed(energyEv / 1000, 3)}`)
      .join(', '),
  ];
}

function argument(finding: ElementFinding): string[] {
  const { rivals, origin, verdict } = finding;
  const setting = origin === 'setting' ? ' Likely from the mounting.' : '';
  const settling = rivals
    .filter(({ name }) => name.split('+').length <= MOST_ELEMENTS)
    .flatMap((rival) => rival.settling.slice(0, MOST_SETTLING[verdict]).map((line) => settled(finding, rival, line)));
  return [
    ...wrap(reasonSentence(finding) + setting + entangled(finding), 6),
    ...settling.flatMap((text) => wrap(text, 6, 2)),
  ];
}

/** Correlations worth a sentence. */
const ENTANGLED = 0.5;

/** Elements whose amounts hang together with this one's: their lines overlap. */
function entangled({ correlations }: ElementFinding): string {
  const strong = correlations.filter(({ value }) => Math.abs(value) >= ENTANGLED);
  if (strong.length === 0) return '';
  const told = strong.map(({ symbol, value }) => `${symbol} (correlation ${fixed(value, 2)})`);
  return ` Its counts trade against those of ${listed(told)}.`;
}

function settled({ symbol }: ElementFinding, rival: Rival, line: SettlingLine): string {
  const whole = (value: number): string => fixed(Math.max(0, value), 0);
  const observed = measured({ value: line.observed, sigma: line.sigma });
  return (
    `Settled by ${line.symbol} ${line.line}, ${keV(line.energyEv)}: ${observed} counts above the rest; ` +
    `${whole(line.expectedWith)} expected with ${symbol}, ${whole(line.expectedInstead)} with ${rivalName(rival)} instead.`
  );
}

/** Detection limits of the elements not seen that most of the known materials would need, and the elements this spectrum cannot tell. */
export function limitLines(record: LimnerRecord): string[] {
  const asked = new Map<string, number>();
  for (const { required } of MATERIALS) for (const symbol of required) asked.set(symbol, (asked.get(symbol) ?? 0) + 1);
  const weight = (finding: ElementFinding): number => asked.get(finding.symbol) ?? 0;
  const byUse = (verdict: 'not-seen' | 'blind'): ElementFinding[] =>
    findingsWith(record, verdict)
      .filter((finding) => weight(finding) > 0)
      .sort((a, b) => weight(b) - weight(a) || a.z - b.z);
  const unseen = byUse('not-seen').filter(({ limit }) => limit !== null);
  const blind = byUse('blind');
  const limits = unseen
    .slice(0, MOST_LIMITS)
    .map(({ symbol, limit }) => `${symbol}\u00a0<\u00a0${percent(limit!.massFraction)}`);
  const more = unseen.length > MOST_LIMITS ? `; ${unseen.length - MOST_LIMITS} more in the record` : '';
  return [
    ...(limits.length > 0
      ? wrap(`Not seen, with the least mass fraction that would show: ${limits.join(', ')}${more}.`, 2, 2)
      : []),
    ...(blind.length > 0
      ? wrap(`This spectrum cannot tell: ${blind.map(({ symbol }) => symbol).join(', ')}.`, 2, 2)
      : []),
  ];
}

/** Peaks that nothing in the explanation carries, with the lines nearest to them. */
export function unexplainedLines({ peaks }: LimnerRecord): string[] {
  return peaks
    .filter(({ explainedBy }) => explainedBy.length === 0)
    .flatMap(({ energyEv, energySigmaEv, counts, sigma, candidates }) => {
      const near = candidates
        .slice(0, 4)
        .map(({ symbol, line, distanceEv }) => `${symbol} ${line} (${signed(distanceEv)} eV)`);
      const could = near.length > 0 ? `; nearest lines: ${near.join(', ')}` : '; no line is near';
      const energy = measured({ value: energyEv, sigma: Math.max(energySigmaEv, 1) }, 1e-3);
      return wrap(`${energy} keV, ${measured({ value: counts, sigma })} counts${could}.`, 2, 2);
    });
}

const signed = (value: number): string => (value > 0 ? `+${fixed(value, 0)}` : fixed(value, 0));
