import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { cannotWrite } from './output-error.ts';

/** Our hidden folder inside the output folder: what is under way, and the finished results. */
const HIDDEN = '.limner';

/** Where the finished results of a session are kept. */
export const storeIn = (out: string): string => join(out, HIDDEN, 'results');

/** Where a run writes until all is done. */
export const runIn = (out: string): string => join(out, HIDDEN, `run-${hostname()}-${process.pid}`);

/** Today (UTC), or the day when this session was begun, so that a run that goes on gives the bytes of one that was never cut off. */
export async function dayIn(out: string): Promise<string> {
  const path = join(out, HIDDEN, 'begun');
  const begun = await readFile(path, 'utf8').catch(() => '');
  if (/^\d{4}-\d\d-\d\d$/.test(begun)) return begun;
  const today = new Date().toISOString().slice(0, 10);
  try {
    await mkdir(join(out, HIDDEN), { recursive: true });
    await writeFile(path, today);
  } catch (error) {
    throw cannotWrite(out, error);
  }
  return today;
}

/** Removes what runs on this machine that were killed have left: their folders, and half-written results. */
export async function removeLeftOvers(out: string): Promise<void> {
  const hidden = join(out, HIDDEN);
  const names = await readdir(hidden, { recursive: true }).catch(() => []);
  for (const name of names) {
    if (isLeftOver(name)) await rm(join(hidden, name), { recursive: true, force: true });
  }
}

/** 'run-HOST-PID' or 'results/KK/KEY.gz.HOST-PID-THREAD.part', of a process that is no more. */
function isLeftOver(name: string): boolean {
  const host = `${hostname()}-`;
  const [, run, half] = /^run-(.+)$|\.gz\.(.+)-\d+\.part$/.exec(name) ?? [];
  const owner = run ?? half;
  if (owner === undefined || !owner.startsWith(host)) return false;
  const pid = Number(owner.slice(host.length));
  return Number.isInteger(pid) && (pid === process.pid || !isAlive(pid));
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0); // asks only
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}
