import { elementName } from '../../atomic/elements.ts';
import { areOneCompound, proposalsFor, type Remaining, remainingIn, rivalsIn } from '../../evidence/phase-plan.ts';
import type { ElementFinding, Rival, SettlingLine } from '../../identify/finding.ts';
import { materialById } from '../../pigments/knowledge.ts';
import type { PigmentStanding } from '../../pigments/standing.ts';
import type { LimnerRecord } from '../../record/record.ts';
import { LEAST_PEAK_SIGMA_EV, NEAREST_LINES, SETTLING_IN_BRIEF, WORTH_NAMING } from '../terms/cutoffs.ts';
import {
  alternatives,
  elementsNamed,
  isCrowd,
  lineName,
  lineOf,
  namedRival,
  rivalName,
  shortNames,
} from '../terms/names.ts';
import { capital, keV, listed, measured, signed } from '../terms/numerals.ts';
import { type Item, item, list, type Node, section } from './tree.ts';
import { alikeText, barePeaks, findingsWith, isToldByRival } from './answer.ts';
import { expected, observed } from './elements.ts';
import { decidedBy } from './steps.ts';

/** What stays open, each with what would settle it. */
export function open(record: LimnerRecord): Node | null {
  return section('open', 'What is open, and what would settle it', [
    list('open-list', [...elementItems(record), ...peakItems(record), ...materialItems(record), ...rivalItems(record)]),
  ]);
}

/** What would settle each; why it is open stands with its row of the table. Those that only lack counts are told together. */
function elementItems(record: LimnerRecord): Item[] {
  const findings = findingsWith(record, 'open');
  const [faint, disputed] = [true, false].map((weak) =>
    findings.filter(({ rivals }) => (namedRival(rivals) === undefined) === weak),
  );
  const items = disputed.map((finding) =>
    item(
      `open-${finding.symbol}`,
      settles(finding, namedRival(finding.rivals)!, record),
      isToldByRival(finding, record) ? 'full' : 'brief',
      `${capital(elementName(finding.z))}.`,
    ),
  );
  if (faint.length === 0) return items;
  const ids = faint.map(({ symbol }) => symbol).join('-');
  return [...items, item(`open-${ids}`, 'More counts would settle it.', 'brief', `${capital(elementsNamed(faint))}.`)];
}

/** Where a line here tells the two apart: the counts there. Else what kind of measurement could. */
function settles(finding: ElementFinding, rival: Rival, record: LimnerRecord): string {
  const { symbol } = finding;
  const asked = disputeOf(finding, rival, record);
  const lines = isCrowd(asked.rival) ? [] : asked.rival.settling.slice(0, SETTLING_IN_BRIEF);
  if (lines.length === 0) return `No line here tells ${symbol} from ${rivalName(rival)}: another beam energy might.`;
  return lines.map((line) => settled(line, asked.symbol, asked.rival)).join(' ');
}

/** The comparison with its settling lines: an element outside the explanation has none of its own, but the one that it stands in for has. */
function disputeOf(finding: ElementFinding, rival: Rival, { elements }: LimnerRecord) {
  const other = elements.find(({ symbol }) => symbol === rival.name)?.rivals[0];
  const turned = rival.settling.length === 0 && other?.name.split('+').includes(finding.symbol);
  return turned && other ? { symbol: rival.name, rival: other } : { symbol: finding.symbol, rival };
}

function settled(line: SettlingLine, symbol: string, rival: Rival): string {
  return (
    `${lineOf(line.symbol, line.line)} at ${keV(line.energyEv)} tells them apart: ${observed(line)} counts measured, ` +
    `${expected(line.expectedWith)} expected with ${symbol}, ${expected(line.expectedInstead)} with ${rivalName(rival)}.`
  );
}

function peakItems(record: LimnerRecord): Item[] {
  return barePeaks(record).map(({ energyEv, energySigmaEv, counts, sigma, candidates }, i) => {
    const near = candidates
      .slice(0, NEAREST_LINES)
      .map((line) => `${line.symbol}\u00a0${lineName(line)} (${signed(line.distanceEv)}\u00a0eV)`);
    const could = near.length > 0 ? `Nearest lines: ${listed(near)}.` : 'No line is near.';
    const at = measured({ value: energyEv, sigma: Math.max(energySigmaEv, LEAST_PEAK_SIGMA_EV) }, 1e-3);
    const found = measured({ value: counts, sigma });
    return item(
      `bare-peak-${i + 1}`,
      `${found} counts that nothing explains. ${could}`,
      'brief',
      `Peak at ${at}\u00a0keV.`,
    );
  });
}

/** Parts of the best explanation in whose place something else may stand, and what tells these apart: on the first screen the first of them. */
function materialItems({ pigments, explanations: [best] }: LimnerRecord): Item[] {
  const open = (best?.parts ?? [])
    .map((part) => ({ part, remaining: remainingIn(part) }))
    .filter(({ remaining }) => remaining.length > 1);
  return open.map(({ part, remaining }, place) => {
    const others = remaining.slice(1).map(({ name }) => name);
    const followUp = pigments.find(({ id }) => id === part.id)?.followUp ?? '';
    const told = `Elements cannot tell it from ${alikeText(others, 'brief')}. ${decided({ followUp, ...part }, remaining)}`;
    return item(`alike-${part.id}`, told, place === 0 ? 'brief' : 'full', `${part.name}.`);
  });
}

/** Explanations about as likely, with something else to give the colour. */
function rivalItems({ explanations }: LimnerRecord): Item[] {
  const rivals = rivalsIn(explanations.filter(({ score }) => score >= WORTH_NAMING * explanations[0].score));
  if (rivals.length < 2) return [];
  const names = capital(alternatives(shortNames(rivals.map(({ name }) => name))));
  return [
    item(
      'rival-explanations',
      `The amounts fit either. ${decided({ ...rivals[0], followUp: '' }, rivals)}`,
      'brief',
      `${names}.`,
    ),
  ];
}

/** What tells a material from the others that remain; one of one's own is not in the table of optics: what its row says stands for it. */
export function decided(
  { id, followUp }: Pick<PigmentStanding, 'id' | 'followUp'>,
  remaining: readonly Remaining[],
): string {
  const own = materialById(id) === undefined;
  const can = own ? followUp : decidedBy(proposalsFor(remaining));
  if (can) return `To tell them apart: ${can}.`;
  return areOneCompound(remaining)
    ? 'They are the same compound: only the size of the grains, and what lies next to them, may hint at the origin.'
    : 'No technique known to Limner can.';
}
