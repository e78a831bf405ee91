import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { makeFolder } from './make-folder.ts';
import { cannotWrite } from './output-error.ts';

/** The hidden folder inside the output folder: what is under way, and what is stored for the next run. */
const HIDDEN = '.limner';

/** Where the results of single spectra are stored. */
export const storeIn = (out: string): string => join(out, HIDDEN, 'results');

/** Where a run writes until all is done. */
export const runIn = (out: string): string => join(out, HIDDEN, `run-${hostname()}-${process.pid}`);

/** Today (UTC), or the day on which this session was begun, so that a resumed run gives the same bytes as one that was never interrupted. */
export async function dayIn(out: string): Promise<string> {
  const path = join(out, HIDDEN, 'begun');
  const begun = await readFile(path, 'utf8').catch(() => '');
  if (/^\d{4}-\d\d-\d\d$/.test(begun)) return begun;
  const today = new Date().toISOString().slice(0, 10);
  try {
    await makeFolder(join(out, HIDDEN));
    await writeFile(path, today);
  } catch (error) {
    throw cannotWrite(out, error);
  }
  return today;
}

/** Removes what killed runs on this machine have left behind: their folders, and half-written results. */
export async function removeLeftOvers(out: string): Promise<void> {
  const hidden = join(out, HIDDEN);
  const names = await readdir(hidden, { recursive: true }).catch(() => []);
  for (const name of names) {
    if (isLeftOver(name)) await rm(join(hidden, name), { recursive: true, force: true });
  }
}

/** 'run-HOST-PID' or 'results/KK/KEY.br.HOST-PID-THREAD.part', of a process that has ended. */
function isLeftOver(name: string): boolean {
  const host = `${hostname()}-`;
  const [, run, half] = /^run-(.+)$|\.br\.(.+)-\d+\.part$/.exec(name) ?? [];
  const owner = run ?? half;
  if (owner === undefined || !owner.startsWith(host)) return false;
  const pid = Number(owner.slice(host.length));
  return Number.isInteger(pid) && (pid === process.pid || !isAlive(pid));
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0); // only asks
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
