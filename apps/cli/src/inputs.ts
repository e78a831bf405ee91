import { type EnergyAxis, type IdentifyOptions, MAX_INPUT_BYTES, type OwnMaterials, type Spectrum } from '@limner/core';
import { InputError, loadPigments, loadSpectrum, PigmentsError, spectrumFrom, tooLarge } from '@limner/session';
import type { Command } from 'commander';
import { basename, resolve } from 'node:path';
import { type Io, UsageError } from './io.ts';
import { axisValue, beamValue, mountValue, nameValue, symbolsValue, yearValue } from './values.ts';

export interface ReadingFlags {
  readonly beam?: string;
  readonly axis?: string;
  readonly mount?: string;
  readonly claim?: string;
  readonly without?: string;
  readonly oxygen?: string;
  readonly dated?: string;
  readonly pigments?: string;
}

/** Options of every command that reads spectra. */
export function addReadingOptions(command: Command): Command {
  return command
    .option('--beam <KEV>', 'beam energy in keV; overrides the file')
    .option('--axis <GAIN,OFFSET>', 'eV per channel and energy of channel 0 in eV, for files whose axis is in channels')
    .option('--mount <LIST>', 'what the mounting may add, like carbon-stub,gold-coat')
    .option('--claim <LIST>', 'elements to test, like Sn,Sb: is each supported or contradicted?')
    .option('--without <LIST>', 'elements to exclude: what would take their place?')
    .option(
      '--oxygen <HOW>',
      "amount of oxygen: from its 'line' (default), or from the usual 'oxides' of the other elements",
    )
    .option('--dated <YEAR>', 'stated year, like 1650 or -300 (BCE); anachronisms are flagged')
    .option('--pigments <FILE>', 'your own materials (CSV), added to those of Limner or replacing them by id');
}

export interface ReadingOptions {
  readonly axis?: EnergyAxis;
  readonly identify: IdentifyOptions;
}

/** @throws UsageError */
export async function readingOptions(io: Io, flags: ReadingFlags): Promise<ReadingOptions> {
  const { beam, axis, mount, claim, without, oxygen, dated, pigments } = flags;
  const identify = {
    ...(beam !== undefined && { beamKev: beamValue('--beam', beam) }),
    ...(mount !== undefined && { mount: mountValue('--mount', mount) }),
    ...(claim !== undefined && { claim: symbolsValue('--claim', claim) }),
    ...(without !== undefined && { without: symbolsValue('--without', without) }),
    ...(oxygen !== undefined && { oxygen: nameValue('--oxygen', oxygen, ['line', 'oxides'] as const) }),
    ...(dated !== undefined && { dated: yearValue('--dated', dated) }),
    ...(pigments !== undefined && { pigments: await ownPigments(io, pigments) }),
  };
  return { identify, ...(axis !== undefined && { axis: axisValue('--axis', axis) }) };
}

/** @throws UsageError with a line for each fault */
async function ownPigments(io: Io, file: string): Promise<OwnMaterials> {
  try {
    return await loadPigments(resolve(io.cwd, file), file);
  } catch (error) {
    if (error instanceof PigmentsError) throw new UsageError(error.message, { cause: error });
    throw error;
  }
}

const STANDARD_INPUT = 'standard input';

/** Reads a spectrum from a file, or from standard input for '-'. @throws InputError */
export async function readInput(io: Io, file: string, axis: EnergyAxis | undefined): Promise<Spectrum> {
  const options = axis === undefined ? {} : { axis };
  if (file === '-') return spectrumFrom(await bytesOf(io.stdin), options, STANDARD_INPUT);
  return loadSpectrum(resolve(io.cwd, file), { name: basename(file), ...options }, file);
}

async function bytesOf(stdin: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of stdin) {
    size += chunk.length;
    if (size > MAX_INPUT_BYTES) throw new InputError(STANDARD_INPUT, tooLarge(size));
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}
