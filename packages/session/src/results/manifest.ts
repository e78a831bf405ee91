import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Part } from '../input/part.ts';
import type { SettingSummary } from '../instrument/calibration.ts';
import type { Circumstances } from './circumstances.ts';

export const MANIFEST = 'manifest.json';
/** Every manifest begins so; by it one of ours is known again. */
export const MANIFEST_BEGINS = '{"schema":"limner-session/1"';

export interface Input {
  readonly name: string;
  /** Of the file's bytes; null where they could not be read. */
  readonly sha256: string | null;
  /** 'elsewhere': another part reads it. */
  readonly outcome: 'read' | 'failed' | 'elsewhere';
  /** Why it failed. */
  readonly reason?: string;
}

/** What a session was read from, with what, and how. */
export interface Manifest extends Circumstances {
  readonly schema: 'limner-session/1';
  readonly part: Part | null;
  /** The samples' sheet, whole. */
  readonly sheet: string | null;
  /** What the session knows of its instrument, by setting; null when every spectrum was read on its own. */
  readonly instrument: readonly SettingSummary[] | null;
  /** SHA-256 over names and hashes of all inputs: the same for every part of a session. */
  readonly session: string;
  readonly outputs: readonly { readonly name: string; readonly sha256: string; readonly bytes: number }[];
  readonly inputs: readonly Input[];
}

/** The manifest's text around its inputs, one of them a line. */
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
