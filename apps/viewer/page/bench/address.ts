import { type BenchState, benchStateFrom, benchStateText } from '@limner/core';

/** What an address says: a state, and a lesson if one is open. */
export interface Address {
  readonly state: BenchState;
  readonly lesson: string | null;
}

/** The address behind '#'. @throws BenchStateError */
export function addressFrom(hash: string): Address {
  const fields = hash.replace(/^#/, '').split('&').filter(Boolean);
  const lesson = fields.find((field) => field.startsWith('lesson='))?.slice('lesson='.length) ?? null;
  const text = fields.filter((field) => !field.startsWith('lesson=')).join('&');
  return { state: benchStateFrom(text === '' ? 'out=S' : text), lesson };
}

export const addressText = ({ state, lesson }: Address): string =>
  `#${[...(lesson === null ? [] : [`lesson=${lesson}`]), benchStateText(state)].join('&')}`;
