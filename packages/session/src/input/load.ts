import { type EnergyAxis, MAX_INPUT_BYTES, readSpectrum, type Spectrum } from '@limner/core';
import { open, type FileHandle } from 'node:fs/promises';

/** An input that gives no spectrum; the message is one line: the input, the cause and what to do. */
export class InputError extends Error {
  override readonly name = 'InputError';
  /** The message without the input's name. */
  readonly reason: string;
  constructor(where: string, reason: string, options?: ErrorOptions) {
    super(`${where}: ${reason}`, options);
    this.reason = reason;
  }
}

export interface LoadOptions {
  /** Name for the record; by default the one that errors use. */
  readonly name?: string;
  /** Axis for files whose header has channels only. */
  readonly axis?: EnergyAxis;
}

/** Reads the spectrum in a file; `where` names it in errors. @throws InputError */
export async function loadSpectrum(path: string, options: LoadOptions = {}, where = path): Promise<Spectrum> {
  return spectrumFrom(await readBytes(path, where), options, where);
}

/** Reads the spectrum in bytes; `where` names them in errors. @throws InputError */
export function spectrumFrom(bytes: Uint8Array, options: LoadOptions, where: string): Spectrum {
  try {
    return readSpectrum(bytes, { name: where, ...options });
  } catch (error) {
    throw new InputError(where, messageOf(error), { cause: error });
  }
}

/** The bytes of a file no larger than a spectrum can be; `where` names it in errors. @throws InputError */
export async function readBytes(path: string, where: string): Promise<Uint8Array> {
  let file: FileHandle | undefined;
  try {
    file = await open(path);
    const info = await file.stat();
    if (info.isDirectory()) {
      throw new InputError(where, "this is a folder, not a file; 'tag' reads folders");
    }
    if (info.size > MAX_INPUT_BYTES) throw new InputError(where, tooLarge(info.size));
    return await readAtMost(file, where);
  } catch (error) {
    throw error instanceof InputError ? error : new InputError(where, causeOf(error), { cause: error });
  } finally {
    await file?.close();
  }
}

/** Devices and pipes state no size, so bytes are counted as they arrive. */
async function readAtMost(file: FileHandle, where: string): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of file.createReadStream({ autoClose: false }) as AsyncIterable<Uint8Array>) {
    size += chunk.length;
    if (size > MAX_INPUT_BYTES) throw new InputError(where, tooLarge(size));
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}

export function tooLarge(bytes: number): string {
  const [size, most] = [bytes, MAX_INPUT_BYTES].map((n) => Math.ceil(n / 2 ** 20));
  return `too large for a spectrum (${size} MiB; at most ${most} MiB can be read); give the exported spectrum itself`;
}

const CAUSES: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file; check the name and the folder',
  ENOTDIR: 'part of the path is a file, not a folder; check the path',
  EACCES: 'you are not allowed to read it; check its permissions',
  EPERM: 'you are not allowed to read it; check its permissions',
  ELOOP: 'its symbolic links go round in a circle; give the file itself',
  ENAMETOOLONG: 'the name is too long for this system; shorten it',
  EMFILE: 'the system has too many files open; close some and run again',
};

/** A system error in words. */
export function causeOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return CAUSES[code] ?? `it cannot be read (${messageOf(error)})`;
}

/** An error's message on one line. */
export function messageOf(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).replace(/\s*\n\s*/g, ' ');
}
