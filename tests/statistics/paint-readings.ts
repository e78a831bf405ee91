// Grains of paint as spectra and as what is read of them: by the project's own simulator with its physics bent, or by the second
// forward model of other-physics (Python). What was found can be kept on disk, so that the argument alone is judged anew.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { explain } from '../../packages/core/src/identify/explain.ts';
import type { Finding } from '../../packages/core/src/identify/finding.ts';
import { findingsOf } from '../../packages/core/src/identify/findings.ts';
import { simulate } from '../../packages/core/src/simulate/simulate.ts';
import { readSpectrum } from '../../packages/core/src/spectrum/read.ts';
import type { Spectrum } from '../../packages/core/src/spectrum/spectrum.ts';
import { BENT } from './grains.ts';
import { massesOf, type PaintGrain } from './paint-grains.ts';

export interface Physics {
  /** A Python with numpy, scipy and xraylib; the project's own simulator, bent, if left out. */
  readonly python?: string | undefined;
  /** A folder for what was found, by name of the grain; nothing is kept if left out. */
  readonly keep?: string | undefined;
}

const OTHER_PHYSICS = fileURLToPath(new URL('other-physics', import.meta.url));
/** The second forward model's take-off angle, and the project's default. */
const TAKE_OFF_DEG = { other: 35, own: 40 };

/** What is found in each grain; the spectra are made and read one after the other. */
export function* findingsIn(grains: readonly PaintGrain[], { python, keep }: Physics): Generator<readonly Finding[]> {
  if (keep !== undefined) mkdirSync(keep, { recursive: true });
  for (const grain of grains) {
    const file = keep === undefined ? null : join(keep, `${grain.name.replaceAll(' ', '-')}-${grain.seed}.json`);
    if (file !== null && existsSync(file)) yield JSON.parse(readFileSync(file, 'utf8')) as Finding[];
    else {
      const found = read(grain, python);
      if (file !== null) writeFileSync(file, JSON.stringify(found));
      yield found;
    }
  }
}

function read(grain: PaintGrain, python: string | undefined): Finding[] {
  const beamEv = grain.beamKev * 1000;
  const spectrum = python === undefined ? own(grain) : other(grain, python);
  const takeOffDeg = python === undefined ? TAKE_OFF_DEG.own : TAKE_OFF_DEG.other;
  return findingsOf(explain(spectrum, { beamEv, takeOffDeg }), new Map());
}

function own({ composition, beamKev, counts, seed }: PaintGrain): Spectrum {
  const perturb = { seed: seed + 1, ...BENT };
  return simulate({ composition }, { beamKev, takeOffDeg: TAKE_OFF_DEG.own, totalCounts: counts, seed, perturb });
}

function other(grain: PaintGrain, python: string): Spectrum {
  const folder = mkdtempSync(join(tmpdir(), 'limner-paint-'));
  try {
    const out = join(folder, 'grain.msa');
    const asked = [{ out, parts: massesOf(grain), beamKev: grain.beamKev, counts: grain.counts, seed: grain.seed }];
    execFileSync(python, ['contents.py'], {
      cwd: OTHER_PHYSICS,
      input: JSON.stringify(asked),
      env: { ...process.env, OPENBLAS_NUM_THREADS: '1' },
    });
    return readSpectrum(readFileSync(out));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
