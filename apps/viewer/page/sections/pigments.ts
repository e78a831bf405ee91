import type { LimnerRecord, PigmentStanding } from '@limner/core';
import { h } from '../dom.ts';
import { capital, fixed, listed, years } from '../format.ts';

/** Allowed materials whose fit is below this part of the best are folded. */
const LEAST_OF_BEST = 0.35;
const MOST_SHOWN = 6;

/** What the elements allow among historical materials, best first, and what they rule out, folded. */
export function pigmentsSection({ pigments }: LimnerRecord): HTMLElement {
  const allowed = pigments.filter(({ standing }) => standing === 'allowed');
  const ruledOut = pigments.filter(({ standing }) => standing === 'ruled-out');
  const names = new Map(allowed.map(({ id, name }) => [id, name]));
  const { shown, rest } = partedByFit(allowed);
  return h(
    'section',
    { class: 'pigments', 'aria-labelledby': 'pigments' },
    h('h2', { id: 'pigments' }, 'Pigments and other materials'),
    h(
      'p',
      { class: 'lead-in' },
      allowed.length
        ? 'Allowed by the elements. An allowed material is a candidate, not a finding: the counts say which elements are there, not how they are bound.'
        : 'The elements fit none of the materials known here.',
    ),
    h(
      'ol',
      { class: 'allowed' },
      shown.map((pigment) => candidate(pigment, names)),
    ),
    rest.length ? folded(rest, `Allowed as well: ${rest.length} more, alike or fitting less well`) : null,
    ruledOut.length ? folded(ruledOut, `Ruled out: ${ruledOut.length} materials, each with the reason`) : null,
  );
}

/** The best of each group of look-alikes that fits well is shown; all others are the rest. */
function partedByFit(allowed: readonly PigmentStanding[]) {
  const told = new Set<string>();
  const shown: PigmentStanding[] = [];
  for (const pigment of allowed) {
    if (shown.length === MOST_SHOWN || pigment.score < LEAST_OF_BEST * allowed[0].score) break;
    if (told.has(pigment.id)) continue;
    shown.push(pigment);
    for (const id of [pigment.id, ...pigment.lookalikes]) told.add(id);
  }
  return { shown, rest: allowed.filter((pigment) => !shown.includes(pigment)) };
}

function candidate(pigment: PigmentStanding, names: ReadonlyMap<string, string>): HTMLElement {
  const alike = pigment.lookalikes.flatMap((id) => names.get(id) ?? []);
  const facts = [pigment.class, pigment.hue, years(pigment.earliestUse, pigment.latestUse)].filter(Boolean).join(', ');
  const hazard = pigment.hazard && pigment.hazard !== 'none' ? pigment.hazard : '';
  return h(
    'li',
    { 'data-pigment': pigment.id },
    h('h3', {}, capital(pigment.name), pigment.formula ? formula(pigment.formula) : null),
    fitBar(pigment.score),
    h('p', { class: 'facts' }, `${capital(facts)}.`),
    h('p', {}, pigment.reason),
    alike.length ? h('p', {}, `Elements alone cannot tell it from ${listed(alike)}.`) : null,
    pigment.followUp ? h('p', {}, `${capital(pigment.followUp)} can tell.`) : null,
    hazard ? h('p', { class: 'hazard' }, `Hazard: ${hazard}.`) : null,
  );
}

const fitBar = (score: number): HTMLElement =>
  h(
    'p',
    { class: 'fit' },
    `fit ${fixed(score, 2)}`,
    h('span', { class: 'bar', 'aria-hidden': 'true' }, h('span', { style: `width:${100 * score}%` })),
  );

function folded(pigments: readonly PigmentStanding[], title: string): HTMLElement {
  const item = ({ id, name, reason, standing, score }: PigmentStanding) =>
    h(
      'li',
      { 'data-pigment': id },
      h('b', {}, capital(name)),
      standing === 'allowed' ? ` (fit ${fixed(score, 2)}): ` : ': ',
      reason,
    );
  return h(
    'details',
    { class: 'folded' },
    h('summary', {}, title),
    h('ul', { class: 'short-reasons' }, pigments.map(item)),
  );
}

/** A formula with its numbers set low: digits after a letter or a bracket. */
function formula(text: string): HTMLElement {
  const parts = text.split(/(?<=[A-Za-z)\]])(\d+(?:\.\d+)?)/);
  return h(
    'span',
    { class: 'formula' },
    ' ',
    parts.map((part, i) => (i % 2 ? h('sub', {}, part) : part.replaceAll('*', '·'))),
  );
}
