import {
  EmsaError,
  type EnergyAxis,
  type IdentifyOptions,
  MAX_INPUT_BYTES,
  MOUNT_NAMES,
  type OwnMaterials,
  type PrepareOptions,
  type Spectrum,
} from '@limner/core';
import { InputError, loadPigments, loadSpectrum, PigmentsError, spectrumFrom, tooLarge } from '@limner/session';
import type { Command } from 'commander';
import { basename, resolve } from 'node:path';
import { type Io, UsageError } from './io.ts';
import { axisValue, beamValue, claimsValue, mountValue, nameValue, symbolsValue, yearValue } from './values.ts';

/** Flags of every command that explains a spectrum. */
export interface SpectrumFlags {
  readonly beam?: string;
  readonly axis?: string;
  readonly mount?: string;
  readonly claim?: string;
  readonly without?: string;
}

/** Flags of those that also say what the grain may be. */
export interface ReadingFlags extends SpectrumFlags {
  readonly oxygen?: string;
  readonly dated?: string;
  readonly pigments?: string;
  readonly references?: string;
}

/** Options of every command that explains a spectrum. */
export function addSpectrumOptions(command: Command): Command {
  return command
    .option('--beam <KEV>', 'beam energy in keV; overrides the file')
    .option('--axis <GAIN,OFFSET>', 'eV per channel and energy of channel 0 in eV, for files whose axis is in channels')
    .option('--mount <LIST>', `what the mounting may add, one or more of ${MOUNT_NAMES.join(', ')}`)
    .option('--claim <LIST>', 'elements to test, with or without a content by mass, like Sn,Pb=10%')
    .option('--without <LIST>', 'elements to exclude, to see what would take their place');
}

/** Options of those that also say what the grain may be. */
export function addReadingOptions(command: Command): Command {
  return addSpectrumOptions(command)
    .option(
      '--oxygen <HOW>',
      "amount of oxygen: from its 'line' (default), or from the usual 'oxides' of the other elements",
    )
    .option('--dated <YEAR>', 'stated year of the object, like 1650 or -300 (BCE); anachronisms are pointed out')
    .option('--pigments <FILE>', "your own materials (CSV): added to Limner's, or replacing those with the same id")
    .option('--references <FOLDER>', "folder of known materials to compare the grain with; see 'reference add'");
}

/** What is told besides the bytes: to the reader of the file, and to what core makes of the spectrum. */
interface Given<Options> {
  readonly axis?: EnergyAxis;
  readonly options: Options;
}

/** @throws UsageError */
export function spectrumOptions({ beam, axis, mount, claim, without }: SpectrumFlags): Given<PrepareOptions> {
  const options = {
    ...(beam !== undefined && { beamKev: beamValue('--beam', beam) }),
    ...(mount !== undefined && { mount: mountValue('--mount', mount) }),
    ...(claim !== undefined && { claim: claimsValue('--claim', claim) }),
    ...(without !== undefined && { without: symbolsValue('--without', without) }),
  };
  return { options, ...(axis !== undefined && { axis: axisValue('--axis', axis) }) };
}

export type ReadingOptions = Given<IdentifyOptions>;

/** @throws UsageError */
export async function readingOptions(io: Io, flags: ReadingFlags): Promise<ReadingOptions> {
  const { oxygen, dated, pigments } = flags;
  const given = spectrumOptions(flags);
  const options = {
    ...given.options,
    ...(oxygen !== undefined && { oxygen: nameValue('--oxygen', oxygen, ['line', 'oxides'] as const) }),
    ...(dated !== undefined && { dated: yearValue('--dated', dated) }),
    ...(pigments !== undefined && { pigments: await ownPigments(io, pigments) }),
  };
  return { ...given, options };
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
  try {
    if (file === '-') return spectrumFrom(await bytesOf(io.stdin), options, STANDARD_INPUT);
    return await loadSpectrum(resolve(io.cwd, file), { name: basename(file), ...options }, file);
  } catch (error) {
    throw namingOption(error, file === '-' ? STANDARD_INPUT : file);
  }
}

/** Where the reader asks for an axis: with the option that gives one. */
function namingOption(error: unknown, where: string): unknown {
  if (!(error instanceof InputError && error.cause instanceof EmsaError && error.cause.asksForAxis)) return error;
  return new InputError(where, error.reason.replace(/\.$/, ' (--axis GAIN,OFFSET).'), { cause: error.cause });
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
