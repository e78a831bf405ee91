// What readings answer today, number by number, so that a change which nobody meant is seen. That an answer is kept proves nothing of its truth: the
// published and statistical tests judge that. After a wanted change, look at the difference that this makes in tests/fixtures/kept-answers:
//   LIMNER_RENEW=1 npx vitest run --config .config/vitest.config.ts tests/kept-answers.test.ts
import {
  identify,
  type LimnerRecord,
  massFractionsOf,
  observationsFrom,
  planMeasurement,
  readInstrument,
  readingOf,
  readKnown,
  readSpectrum,
  shareInstrument,
  simulate,
  type Spectrum,
  taughtBy,
} from '@limner/core';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { differences, linesOf } from './fixtures/kept.ts';

const grain = (name: string): Spectrum =>
  readSpectrum(readFileSync(new URL(`../data/demo/${name}.msa`, import.meta.url)), { name });
const drawn = (composition: string, totalCounts: number, seed: number): Spectrum =>
  simulate(
    { composition },
    { beamKev: 20, channels: 1024, axis: { offsetEv: 0, gainEv: 20 }, totalCounts, seed, perturb: { seed } },
  );
const chalk = drawn('CaCO3', 60_000, 5);
const session = ['CaCO3', 'HgS', '2CuCO3*Cu(OH)2', 'ZnO'].map((formula, i) => drawn(formula, 20_000, 11 + i));

/** Of materials that are ruled out, that they are. */
const told = (record: LimnerRecord): object => ({
  ...record,
  pigments: record.pigments.map((one) => (one.standing === 'ruled-out' ? { id: one.id } : one)),
});
/** What the fit says, without the materials. */
const found = ({ elements, axis, fit, ledger, conditions, warnings }: LimnerRecord): object => ({
  ...{ elements, axis, fit, ledger, conditions, warnings },
});

const CASES: Readonly<Record<string, () => object>> = {
  'lead-tin-yellow': () => told(identify(grain('P1-L3-g03'))),
  argued: () =>
    told(
      identify(grain('P1-L2-g01'), {
        mount: ['resin', 'carbon-coat'],
        claim: ['Sb', { symbol: 'Cu', massFraction: 0.2 }],
        without: ['Hg'],
        dated: 1650,
        oxygen: 'oxides',
        seen: observationsFrom('colour=red,opacity=opaque'),
      }),
    ),
  'left-out': () => {
    const reading = readingOf(session[1]);
    const { without, instead } = reading.alternative('Hg')!;
    const every = (values: Float64Array): number[] => [...values].filter((_, i) => i % 40 === 0);
    return { without: every(without), name: instead?.name, instead: every(instead!.expected) };
  },
  'few-counts': () => found(identify(drawn('2PbCO3*Pb(OH)2', 600, 3))),
  'wrong-axis': () => found(identify({ ...chalk, axis: { offsetEv: 40, gainEv: 19.3 } })),
  'shared-instrument': () => {
    const estimates = session.map((spectrum, i) => ({ estimate: readInstrument(spectrum), time: i / 2 - 0.75 }));
    const shared = shareInstrument(estimates);
    const instrument = shared.knowledge(0.2, 900, 3)!;
    return { estimates, instrument, record: found(identify(chalk, { instrument })) };
  },
  known: () => {
    const readings = ['CaCO3', 'ZnO'].map((formula, i) => readKnown(session[3 * i], massFractionsOf(formula)));
    const wrong = readKnown(session[1], massFractionsOf('PbS'));
    return { readings, wrong, taught: taughtBy(readings.map(({ evidence }) => evidence)) };
  },
  plan: () => planMeasurement(session[1], { claim: ['Pb'], grain: { diameterUm: 4, densityGPerCm3: 8 } }),
};

it.each(Object.entries(CASES))('%s: what was answered before', (name, answer) => {
  const file = new URL(`fixtures/kept-answers/${name}.txt`, import.meta.url);
  const now = linesOf(answer());
  if (process.env['LIMNER_RENEW']) {
    mkdirSync(new URL('.', file), { recursive: true });
    writeFileSync(file, `${now.join('\n')}\n`);
  }
  expect(differences(readFileSync(file, 'utf8').trimEnd().split('\n'), now)).toEqual([]);
});
