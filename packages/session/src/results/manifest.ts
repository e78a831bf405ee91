import type { SettingSummary } from '@limner/core';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Part } from '../input/part.ts';
import type { Circumstances } from './circumstances.ts';

export const MANIFEST = 'manifest.json';
/** Every manifest begins with this, so that an earlier one can be recognised. */
export const MANIFEST_BEGINS = '{"schema":"limner-session/1"';

export interface Input {
  readonly name: string;
  /** Of the file's content; null where it could not be read. */
  readonly sha256: string | null;
  /** 'elsewhere': another part reads it. */
  readonly outcome: 'read' | 'failed' | 'elsewhere';
  /** Why it failed. */
  readonly reason?: string;
}

/** What a session was read from, by which software, and how. */
export interface Manifest extends Circumstances {
  readonly schema: 'limner-session/1';
  readonly part: Part | null;
  /** The sample sheet's whole text. */
  readonly sheet: string | null;
  /** What the session knows about its instrument, by setting; null when every spectrum was read on its own. */
  readonly instrument: readonly SettingSummary[] | null;
  /** SHA-256 over names and hashes of all inputs: the same for every part of a session. */
  readonly session: string;
  readonly outputs: readonly { readonly name: string; readonly sha256: string; readonly bytes: number }[];
  readonly inputs: readonly Input[];
}

/** The manifest's text before and after its inputs, which take a line each. */
export function manifestText(rest: Omit<Manifest, 'schema' | 'inputs'>): [before: string, after: string] {
  const { software, options, part, sheet, instrument, session, outputs } = rest;
  const before = [
    `${MANIFEST_BEGINS},`,
    `"software":${JSON.stringify(software)},`,
    `"options":${JSON.stringify(options)},`,
    `"part":${JSON.stringify(part)},`,
    `"sheet":${JSON.stringify(sheet)},`,
    `"instrument":${JSON.stringify(instrument)},`,
    `"session":${JSON.stringify(session)},`,
    `"outputs":[\n${outputs.map((output) => JSON.stringify(output)).join(',\n')}\n],`,
    '"inputs":[\n',
  ].join('\n');
  return [before, '\n]}\n'];
}

/** The manifest of an output folder. @throws when there is none */
export async function manifestIn(out: string): Promise<Manifest> {
  return JSON.parse(await readFile(join(out, MANIFEST), 'utf8')) as Manifest;
}
