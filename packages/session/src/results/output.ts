import { createHash, type Hash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open, readdir, rename, rm, stat, type FileHandle } from 'node:fs/promises';
import { join } from 'node:path';
import { removeLeftOvers, runIn } from './hidden.ts';
import { makeFolder } from './make-folder.ts';
import { cannotWrite, OutputError } from './output-error.ts';

/** A file to write, with the text by which one of our own is recognised. */
export interface OutputFile {
  readonly name: string;
  /** Every file of this name that we write begins with it; one that begins otherwise is someone else's and is kept. */
  readonly begins: string;
  /** How it began in an earlier version. */
  readonly began?: string;
}

interface Open {
  readonly file: FileHandle;
  readonly hash: Hash;
  bytes: number;
  /** What is still to be written, and its bytes. */
  waiting: Uint8Array[];
  waits: number;
}

/** So many bytes are written at once: a line of a table by itself costs more to write than to make. */
const AT_ONCE = 2 ** 16;

/**
 * Files that appear in a folder only when all are complete: each is written in a hidden folder and renamed at the end, in order, so
 * that the last one vouches for the others. Only files that an earlier run wrote are ever replaced or deleted.
 */
export class OutputFolder {
  readonly #folder: string;
  readonly #run: string;
  readonly #files: OutputFile[];
  readonly #open = new Map<string, Open>();

  private constructor(folder: string, run: string, files: readonly OutputFile[]) {
    this.#folder = folder;
    this.#run = run;
    this.#files = [...files];
  }

  /** Makes the folder if needed and opens the files, and `scratch` files that never appear. @throws OutputError */
  static async open(folder: string, files: readonly OutputFile[], scratch: readonly string[]): Promise<OutputFolder> {
    const output = new OutputFolder(folder, runIn(folder), files);
    try {
      await makeFolder(folder);
      for (const file of files) await expectOurs(folder, file);
      await removeLeftOvers(folder);
      await makeFolder(output.#run);
      for (const name of [...files.map((file) => file.name), ...scratch]) await output.#begin(name);
      return output;
    } catch (error) {
      await output.discard();
      throw error instanceof OutputError ? error : cannotWrite(folder, error);
    }
  }

  /** The files that will appear, in the order of their appearance. */
  get names(): readonly string[] {
    return this.#files.map(({ name }) => name);
  }

  /** Opens another file, to appear before the last one. @throws OutputError */
  async add(file: OutputFile): Promise<void> {
    try {
      await expectOurs(this.#folder, file);
      await this.#begin(file.name);
    } catch (error) {
      throw cannotWrite(join(this.#folder, file.name), error);
    }
    this.#files.splice(-1, 0, file);
  }

  async #begin(name: string): Promise<void> {
    const file = await open(join(this.#run, name), 'w+');
    this.#open.set(name, { file, hash: createHash('sha256'), bytes: 0, waiting: [], waits: 0 });
  }

  /** @throws OutputError, now or later: what is short waits for more */
  async append(name: string, content: string | Uint8Array): Promise<void> {
    const open = this.#open.get(name)!;
    const bytes = typeof content === 'string' ? Buffer.from(content) : content;
    open.hash.update(bytes);
    open.bytes += bytes.length;
    open.waiting.push(bytes);
    open.waits += bytes.length;
    if (open.waits >= AT_ONCE) await this.#write(name, open);
  }

  async #write(name: string, open: Open): Promise<void> {
    const { waiting } = open;
    [open.waiting, open.waits] = [[], 0];
    try {
      await open.file.writeFile(waiting.length === 1 ? waiting.at(0)! : Buffer.concat(waiting));
    } catch (error) {
      throw cannotWrite(join(this.#folder, name), error);
    }
  }

  /** Appends what a scratch file holds. @throws OutputError */
  async appendScratch(name: string, scratch: string): Promise<void> {
    await this.#write(scratch, this.#open.get(scratch)!);
    const chunks = createReadStream(join(this.#run, scratch)) as AsyncIterable<Uint8Array>;
    for await (const chunk of chunks) await this.append(name, chunk);
  }

  /** Hash and size of what a file holds now. */
  digest(name: string): { readonly name: string; readonly sha256: string; readonly bytes: number } {
    const { hash, bytes } = this.#open.get(name)!;
    return { name, sha256: hash.copy().digest('hex'), bytes };
  }

  /**
   * Puts every file in its place, and removes files that an earlier run added and this one did not.
   * @param added pattern of the names that `add` may be given @throws OutputError
   */
  async commit(added?: RegExp): Promise<void> {
    try {
      for (const [name, open] of this.#open) {
        await this.#write(name, open);
        await open.file.datasync();
        await open.file.close();
      }
      this.#open.clear();
      const { names } = this;
      await rm(join(this.#folder, names.at(-1)!), { force: true });
      const begins = new Set(this.#files.map((file) => file.begins));
      for (const name of await readdir(this.#folder))
        if (added?.test(name) && !names.includes(name)) await removeOurs(join(this.#folder, name), begins);
      for (const name of names) await rename(join(this.#run, name), join(this.#folder, name));
    } catch (error) {
      throw cannotWrite(this.#folder, error);
    }
  }

  /** Removes what is under way; what was there before stays as it was. */
  async discard(): Promise<void> {
    for (const { file } of this.#open.values()) await file.close().catch(() => {});
    this.#open.clear();
    await rm(this.#run, { recursive: true, force: true }).catch(() => {});
  }
}

async function expectOurs(folder: string, { name, begins, began = begins }: OutputFile): Promise<void> {
  const path = join(folder, name);
  const info = await stat(path).catch(() => null);
  if (info === null || (info.isFile() && info.size === 0)) return;
  const isOurs = async (text: string): Promise<boolean> =>
    info.isFile() && (await beginningOf(path, Buffer.byteLength(text))) === text;
  if (!(await isOurs(begins)) && !(await isOurs(began)))
    throw new OutputError(`${path}: this file is not one of Limner's, so it is kept; give --out another folder`, true);
}

async function removeOurs(path: string, begins: ReadonlySet<string>): Promise<void> {
  if (!(await stat(path)).isFile()) return;
  for (const text of begins) if ((await beginningOf(path, Buffer.byteLength(text))) === text) return rm(path);
}

async function beginningOf(path: string, bytes: number): Promise<string> {
  const file = await open(path);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(bytes), 0, bytes, 0);
    return buffer.subarray(0, bytesRead).toString('utf8');
  } finally {
    await file.close();
  }
}
