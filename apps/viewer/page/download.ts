import type { LimnerRecord } from '@limner/core';
import { h } from './dom.ts';

/** Hands over the record as a file. */
export function download(record: LimnerRecord): void {
  const text = `${JSON.stringify(record)}\n`;
  save(new Blob([text], { type: 'application/json' }), `${record.source.name}.limner.json`);
}

export function save(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob);
  h('a', { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
