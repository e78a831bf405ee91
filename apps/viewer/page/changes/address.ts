import { type Changes, NO_CHANGES } from '@limner/core';

/** What another spectrum is scaled to before it is laid over. */
export type ScaledTo = 'time' | 'counts' | 'peak';

/** A spectrum that is laid over the one on show. */
export interface LaidOver {
  /** Id of the spectrum; '' for the measurement that is planned next. */
  readonly id: string;
  readonly to: ScaledTo;
  /** Energy of the peak that both are scaled to, eV. */
  readonly atEv: number;
}

/** What an address of the page names: a spectrum or a place in a reading, what was changed of it, and what is laid over it. */
export interface Address {
  readonly id: string;
  readonly changes: Changes;
  readonly laid: readonly LaidOver[];
}

/** Reads the part of an address behind `#`: 'grain-07.msa?claim=Pb,S:0.02&beam=15'. What it cannot read, it leaves out. */
export function addressIn(hash: string): Address {
  const text = hash.replace(/^#/, '');
  const at = text.indexOf('?');
  const [name, query] = at < 0 ? [text, ''] : [text.slice(0, at), text.slice(at + 1)];
  const parts = new URLSearchParams(query);
  return { id: decoded(name), changes: changesIn(parts), laid: parts.getAll('over').flatMap(laidIn) };
}

export function hashOf({ id, changes, laid }: Address): string {
  const over = new URLSearchParams(laid.map((one) => ['over', laidText(one)]));
  const query = [queryOf(changes), readable(over)].filter(Boolean).join('&');
  return `#${encodeURIComponent(id)}${query && `?${query}`}`;
}

/** These signs mean nothing in this part of an address. */
const readable = (query: URLSearchParams): string =>
  query.toString().replaceAll('%2C', ',').replaceAll('%3A', ':').replaceAll('%40', '@');

/** 'peak@6404:grain-08.msa' */
const laidText = ({ id, to, atEv }: LaidOver): string => `${to}${to === 'peak' ? `@${Math.round(atEv)}` : ''}:${id}`;

function laidIn(text: string): LaidOver[] {
  const [, to, atEv = '0', id] = /^(time|counts|peak)(?:@(\d{1,6}))?:(.*)$/.exec(text) ?? [];
  return to === undefined || id === undefined ? [] : [{ id, to: to as ScaledTo, atEv: Number(atEv) }];
}

/** The changes as text: the same changes give the same text, none give ''. */
export function queryOf(changes: Changes): string {
  const { claim, without, mount, seen, beamKev, axis, dated, materials, references } = changes;
  const query = new URLSearchParams();
  const add = (name: string, text: string): void => {
    if (text !== '') query.set(name, text);
  };
  add(
    'claim',
    claim.map((one) => (one.massFraction === null ? one.symbol : `${one.symbol}:${one.massFraction}`)).join(),
  );
  add('without', without.join());
  add('mount', mount.join());
  for (const [name, text] of Object.entries(seen)) add(`seen.${name}`, text);
  add('beam', beamKev === null ? '' : String(beamKev));
  add('gain', axis === null ? '' : String(axis.gainEv));
  add('offset', axis === null ? '' : String(axis.offsetEv));
  add('dated', dated === null ? '' : String(dated));
  add('materials', materials === null ? '' : `${materials.sha256}:${materials.file}`);
  for (const { sha256, label, file } of references) query.append('known', `${sha256}:${label}:${file}`);
  return readable(query);
}

function changesIn(query: URLSearchParams): Changes {
  const listIn = (name: string): string[] => (query.get(name) ?? '').split(',').filter(Boolean);
  const numberIn = (name: string): number | null => {
    const value = Number(query.get(name) || NaN);
    return Number.isFinite(value) ? value : null;
  };
  const gainEv = numberIn('gain');
  return {
    claim: listIn('claim').map(claimIn),
    without: listIn('without'),
    mount: listIn('mount'),
    seen: Object.fromEntries(
      [...query].flatMap(([key, text]) => (key.startsWith('seen.') ? [[key.slice(5), text]] : [])),
    ),
    beamKev: numberIn('beam'),
    axis: gainEv === null ? NO_CHANGES.axis : { gainEv, offsetEv: numberIn('offset') ?? 0 },
    dated: numberIn('dated'),
    materials: givenIn(query.get('materials') ?? ''),
    references: query.getAll('known').flatMap(referenceIn),
  };
}

/** '<SHA-256>:own.csv' */
function givenIn(text: string): Changes['materials'] {
  const [, sha256, file] = /^([0-9a-f]{64}):(.+)$/.exec(text) ?? [];
  return sha256 === undefined || file === undefined ? null : { file, sha256 };
}

/** '<SHA-256>:PbCO3:standard.msa'; no label holds a colon. */
function referenceIn(text: string): Changes['references'] {
  const [, sha256, label, file] = /^([0-9a-f]{64}):([^:]+):(.+)$/.exec(text) ?? [];
  return sha256 === undefined || label === undefined || file === undefined ? [] : [{ file, sha256, label }];
}

function claimIn(text: string): Changes['claim'][number] {
  const [symbol = '', part] = text.split(':');
  const massFraction = Number(part ?? NaN);
  return { symbol, massFraction: massFraction > 0 && massFraction <= 1 ? massFraction : null };
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
