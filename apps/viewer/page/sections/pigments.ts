import type { LimnerRecord, PigmentStanding } from '@limner/core';
import { h } from '../dom.ts';
import { capital, fixed, listed, years } from '../format.ts';

/** What the elements allow among historical materials, best first, and what they rule out, folded. */
export function pigmentsSection({ pigments }: LimnerRecord): HTMLElement {
  const names = new Map(pigments.map(({ id, name }) => [id, name]));
  const allowed = pigments.filter(({ standing }) => standing === 'allowed');
  const ruledOut = pigments.filter(({ standing }) => standing === 'ruled-out');
  return h(
    'section',
    { class: 'pigments', 'aria-labelledby': 'pigments' },
    h('h2', { id: 'pigments' }, 'Pigments and other materials'),
    allowed.length
      ? h(
          'p',
          { class: 'lead-in' },
          'Allowed by the elements. An allowed material is a candidate, not a finding: the counts say which elements are there, not how they are bound.',
        )
      : h('p', { class: 'lead-in' }, 'The elements fit none of the materials known here.'),
    h(
      'ol',
      { class: 'allowed' },
      allowed.map((pigment) => candidate(pigment, names)),
    ),
    ruledOut.length ? folded(ruledOut) : null,
  );
}

function candidate(pigment: PigmentStanding, names: ReadonlyMap<string, string>): HTMLElement {
  const alike = pigment.lookalikes.map((id) => names.get(id) ?? id);
  const facts = [pigment.class, pigment.hue, years(pigment.earliestUse, pigment.latestUse)].filter(Boolean).join(', ');
  const hazard = pigment.hazard && pigment.hazard !== 'none' ? pigment.hazard : '';
  return h(
    'li',
    { 'data-pigment': pigment.id },
    h(
      'h3',
      {},
      capital(pigment.name),
      pigment.formula ? h('span', { class: 'formula' }, ' ', formula(pigment.formula)) : null,
    ),
    h(
      'p',
      { class: 'fit' },
      `fit ${fixed(pigment.score, 2)}`,
      h('span', { class: 'bar', 'aria-hidden': 'true' }, h('span', { style: `width:${100 * pigment.score}%` })),
    ),
    h('p', { class: 'facts' }, `${capital(facts)}.`),
    h('p', {}, pigment.reason),
    alike.length ? h('p', {}, `Looks the same here: ${listed(alike)}.`) : null,
    pigment.followUp ? h('p', {}, `To decide: ${pigment.followUp}.`) : null,
    hazard ? h('p', { class: 'hazard' }, `Hazard: ${hazard}.`) : null,
  );
}

function folded(ruledOut: readonly PigmentStanding[]): HTMLElement {
  return h(
    'details',
    { class: 'folded' },
    h('summary', {}, `Ruled out: ${ruledOut.length} materials, each with the reason`),
    h(
      'ul',
      { class: 'ruled-out' },
      ruledOut.map(({ id, name, reason }) => h('li', { 'data-pigment': id }, h('b', {}, capital(name)), `: ${reason}`)),
    ),
  );
}

/** A formula with its numbers set low: digits after a letter or a bracket. */
function formula(text: string): HTMLElement {
  const parts = text.split(/(?<=[A-Za-z)\]])(\d+(?:\.\d+)?)/);
  return h(
    'span',
    {},
    parts.map((part, i) => (i % 2 ? h('sub', {}, part) : part.replaceAll('*', '·'))),
  );
}
