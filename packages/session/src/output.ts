import { mkdir, open, readFile, rename, rm, stat, type FileHandle } from 'node:fs/promises';
import { join } from 'node:path';
import { causeOf } from './load.ts';

/** The output folder cannot take the results. */
export class OutputError extends Error {
  override readonly name = 'OutputError';
}

/** A file to write, with the text by which one of ours is known again. */
export interface OutputFile {
  readonly name: string;
  /** Every file of ours with this name begins with it; a file that begins otherwise is someone else's and stays. */
  readonly begins: string;
}

/**
 * Files that appear in a folder all at once: each is written beside its place under a temporary name, and renamed at the end.
 * Only files of this kind are ever replaced, and none is deleted.
 */
export class OutputFolder {
  readonly #folder: string;
  readonly #files: Map<string, FileHandle>;

  private constructor(folder: string, files: Map<string, FileHandle>) {
    this.#folder = folder;
    this.#files = files;
  }

  /** Makes the folder if needed and opens the temporary files. @throws OutputError */
  static async open(folder: string, files: readonly OutputFile[]): Promise<OutputFolder> {
    const handles = new Map<string, FileHandle>();
    try {
      await mkdir(folder, { recursive: true });
      for (const file of files) await expectOurs(folder, file);
      for (const { name } of files) handles.set(name, await open(temporary(folder, name), 'w'));
      return new OutputFolder(folder, handles);
    } catch (error) {
      await new OutputFolder(folder, handles).discard();
      if (error instanceof OutputError) throw error;
      throw new OutputError(`${folder}: the results cannot be written there: ${causeInWriting(error)}`, {
        cause: error,
      });
    }
  }

  async append(name: string, text: string): Promise<void> {
    try {
      await this.#files.get(name)!.writeFile(text);
    } catch (error) {
      throw new OutputError(`${join(this.#folder, name)}: ${causeInWriting(error)}`, { cause: error });
    }
  }

  /** Puts every file in its place. */
  async commit(): Promise<void> {
    for (const file of this.#files.values()) {
      await file.sync();
      await file.close();
    }
    for (const name of this.#files.keys()) await rename(temporary(this.#folder, name), join(this.#folder, name));
    this.#files.clear();
  }

  /** Removes the temporary files; what was there before stays as it was. */
  async discard(): Promise<void> {
    for (const [name, file] of this.#files) {
      await file.close();
      await rm(temporary(this.#folder, name), { force: true });
    }
    this.#files.clear();
  }
}

const temporary = (folder: string, name: string): string => join(folder, `.${name}.${process.pid}.part`);

async function expectOurs(folder: string, { name, begins }: OutputFile): Promise<void> {
  const path = join(folder, name);
  const info = await stat(path).catch(() => null);
  if (info === null || (info.isFile() && info.size === 0)) return;
  const ours = info.isFile() && (await readFile(path, 'utf8')).startsWith(begins);
  if (!ours) throw new OutputError(`${path}: something else has this name and is kept; give --out another folder`);
}

function causeInWriting(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : '';
  if (code === 'ENOSPC') return 'the disk is full';
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') return 'you are not allowed to write there';
  if (code === 'EEXIST' || code === 'ENOTDIR') return 'a file has that name; give --out another folder';
  return causeOf(error);
}
