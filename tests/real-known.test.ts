// Real glasses of published composition (oxides by mass in truth.json of the measurements) as reference materials: what they teach of the
// instrument, how much nearer that brings the amounts of a glass that did not teach, and whether a wrong label is noticed.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  identify,
  taughtBy,
  readKnown,
  readSpectrum,
  shareInstrument,
  symbolOf,
  type KnownReading,
  type MassFractions,
  type Spectrum,
} from '@limner/core';
import { referenceMaterial } from '../packages/session/src/input/reference-material.ts';
import { REAL_ABSENT, realFolder } from './real-folder.ts';

const folder = realFolder();
const NAMES = ['glass_001', 'glass_022', 'glass_058', 'glass_170'];

const spectrumOf = (name: string): Spectrum =>
  readSpectrum(readFileSync(join(folder!, 'antwerp-glass', `${name}.msa`)), { name });

function labelOf(name: string): MassFractions {
  const truth = JSON.parse(readFileSync(join(folder!, 'truth.json'), 'utf8')) as Record<string, { notes: string }>;
  const oxides = [...truth[`antwerp-glass/${name}.msa`].notes.matchAll(/\b([A-Z][A-Za-z0-9]*) (\d+\.\d+)/g)];
  return referenceMaterial(oxides.map(([, formula, percent]) => `${formula} ${percent}`).join('; '));
}

const read = new Map<string, KnownReading>();

/** A glass with the label of one of them; read once. */
function knownAs(name: string, label: string): KnownReading {
  const key = `${name} ${label}`;
  const reading = read.get(key) ?? readKnown(spectrumOf(name), labelOf(label));
  read.set(key, reading);
  return reading;
}

describe(folder === null ? REAL_ABSENT : 'glasses of published composition', () => {
  it.skipIf(folder === null)('agree on a thick window, and bring amounts of another glass nearer', () => {
    const readings = NAMES.map((name) => knownAs(name, name));
    const { taught, contradicted } = taughtBy(readings.map(({ evidence }) => evidence));
    expect([...contradicted.keys(), ...readings.flatMap(({ contradictions }) => contradictions)]).toEqual([]);
    expect(taught.layers.windowUm).toBeGreaterThan(20);
    const errors = NAMES.map((name, i) => {
      const others = readings.filter((_, j) => j !== i);
      const shared = shareInstrument(
        others.map(({ estimate }) => ({ estimate, time: null })),
        () => taughtBy(others.map(({ evidence }) => evidence)).taught,
      );
      const spectrum = spectrumOf(name);
      return {
        alone: logErrors(identify(spectrum), labelOf(name)),
        taught: logErrors(identify(spectrum, { instrument: shared.knowledge(null, null) }), labelOf(name)),
      };
    });
    const alone = rms(errors.flatMap((error) => error.alone));
    const after = rms(errors.flatMap((error) => error.taught));
    // eslint-disable-next-line no-console -- the measured figure
    console.log(
      `amounts of Na to Pb among themselves, rms factor: alone ${Math.exp(alone).toFixed(2)}, taught by the other glasses ${Math.exp(after).toFixed(2)}`,
    );
    expect(after).toBeLessThan(0.5 * alone);
  });

  it.skipIf(folder === null)('contradict a label that belongs to another of them', () => {
    const readings = NAMES.map((name) => knownAs(name, name === 'glass_022' ? 'glass_058' : name));
    const { contradicted } = taughtBy(readings.map(({ evidence }) => evidence));
    const all = NAMES.filter((name, i) => readings[i].contradictions.length > 0 || contradicted.has(name));
    expect(all).toEqual(['glass_022']);
  });
});

/** Deviations of ln(found / stated) from their mean, elements from sodium up that make up 1 % or more and are found. */
function logErrors(record: ReturnType<typeof identify>, known: MassFractions): number[] {
  const logs = [...known].flatMap((stated, z) => {
    if (z < 11 || stated < 0.01) return [];
    const found = record.elements.find(({ symbol }) => symbol === symbolOf(z));
    return found?.verdict === 'present' && found.massFraction ? [Math.log(found.massFraction.value / stated)] : [];
  });
  const mean = logs.reduce((sum, value) => sum + value, 0) / logs.length;
  return logs.map((value) => value - mean);
}

const rms = (values: readonly number[]): number => Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
