import type { LimnerRecord } from '@limner/core';
import { table } from './ledger.ts';
import { h } from '../dom.ts';
import { counts, fixed, measured } from '../format.ts';

/** Warnings about this spectrum; they stand near the top, since they weaken what follows. */
export function warningsNote({ warnings }: LimnerRecord): HTMLElement | null {
  if (warnings.length === 0) return null;
  return h(
    'section',
    { class: 'warnings', 'aria-labelledby': 'warnings' },
    h('h2', { id: 'warnings' }, 'To bear in mind'),
    h(
      'ul',
      {},
      warnings.map(({ code, text }) => h('li', { 'data-code': code }, text)),
    ),
  );
}

/** Claims that were put to the spectrum, and what it would take without named elements. */
export function answersNote({ claims, without }: LimnerRecord): HTMLElement | null {
  if (claims.length === 0 && !without) return null;
  const words = {
    supported: 'supported',
    contradicted: 'contradicted',
    'cannot-tell': 'cannot be told',
  };
  return h(
    'section',
    { 'aria-labelledby': 'answers' },
    h('h2', { id: 'answers' }, 'Asked of the spectrum'),
    h(
      'ul',
      {},
      claims.map(({ symbol, answer, reason }) => h('li', {}, h('b', {}, `${symbol}: ${words[answer]}.`), ` ${reason}`)),
      without ? h('li', {}, h('b', {}, `Without ${without.symbols.join(', ')}.`), ` ${without.reason}`) : null,
    ),
  );
}

export function cautionsNote({ cautions }: LimnerRecord): HTMLElement | null {
  if (cautions.length === 0) return null;
  return h(
    'section',
    { class: 'cautions', 'aria-labelledby': 'cautions' },
    h('h2', { id: 'cautions' }, 'Cautions'),
    h(
      'ul',
      {},
      cautions.map((text) => h('li', {}, text)),
    ),
  );
}

/** `20 keV beam, 2048 channels, 412 000 counts in 60 s` */
export function conditionsLine({ conditions, source }: LimnerRecord): string {
  const { beamKev, channels, totalCounts, liveTimeS } = conditions;
  const beam = `${fixed(beamKev.value, 1).replace(/\.0$/, '')} keV beam${beamKev.origin === 'header' ? '' : ` (${beamKev.origin})`}`;
  const time = liveTimeS === null ? '' : ` in ${fixed(liveTimeS, 0)} s live time`;
  return `${source.name}: ${beam}, ${fixed(channels, 0)} channels, ${counts(totalCounts)} counts${time}`;
}

/** How the reading was made: axis, fit, data, header; and the record itself to take away. */
export function methodSection(record: LimnerRecord): HTMLElement {
  const { axis, fit, software, conditions, source } = record;
  const z = (fit.c - fit.expected) / Math.sqrt(fit.variance);
  const rows: [string, string][] = [
    ['Axis, zero', `${measured(axis.offsetEv)} eV (file: ${fixed(axis.header.offsetEv, 1)} eV)`],
    ['Axis, per channel', `${measured(axis.gainEv)} eV (file: ${fixed(axis.header.gainEv, 3)} eV)`],
    ['Resolution at 5.899 keV', `${measured(axis.fwhmMnEv)} eV`],
    ['Fitted range', `${fixed(axis.rangeEv[0] / 1000, 2)} to ${fixed(axis.rangeEv[1] / 1000, 2)} keV`],
    [
      'Misfit',
      `C = ${fixed(fit.c, 0)} where ${fixed(fit.expected, 0)} ± ${fixed(Math.sqrt(fit.variance), 0)} is expected (${fixed(z, 1)} σ)`,
    ],
    [
      'Fit',
      `${fixed(fit.channels, 0)} channels, ${fixed(fit.parameters, 0)} parameters, ${fit.converged ? 'converged' : 'not converged'}`,
    ],
    ['Take-off angle', `${fixed(conditions.takeOffDeg.value, 1)}° (${conditions.takeOffDeg.origin})`],
    ['Mounting', conditions.mount.join(', ') || 'not stated'],
    ['Limner', `${software.version}, atomic data ${software.atomicData}, pigment data ${software.pigmentData}`],
    ['SHA-256 of the file', source.sha256],
  ];
  return h(
    'section',
    { class: 'method', 'aria-labelledby': 'method' },
    h('h2', { id: 'method' }, 'How it was read'),
    h(
      'dl',
      {},
      rows.map(([term, value]) => h('div', {}, h('dt', {}, term), h('dd', {}, value))),
    ),
    h(
      'details',
      { class: 'folded' },
      h('summary', {}, 'Header of the file'),
      table(
        'Header of the file',
        ['Keyword', 'Unit', 'Value'],
        record.header.map(({ key, unit, value }) => [key, unit, value]),
      ),
    ),
    h(
      'p',
      {},
      h(
        'button',
        { type: 'button', class: 'screen-only', id: 'download', onclick: () => download(record) },
        'Download the record (JSON)',
      ),
    ),
  );
}

function download(record: LimnerRecord): void {
  const url = URL.createObjectURL(new Blob([`${JSON.stringify(record)}\n`], { type: 'application/json' }));
  h('a', { href: url, download: `${record.source.name}.limner.json` }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
