import type { LimnerRecord } from '@limner/core';
import { h } from './dom.ts';

/** Hands over the record as a file. */
export function download(record: LimnerRecord): void {
  const url = URL.createObjectURL(new Blob([`${JSON.stringify(record)}\n`], { type: 'application/json' }));
  h('a', { href: url, download: `${record.source.name}.limner.json` }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
