import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { UnknownMountError } from '../identify/mount.ts';
import { simulate } from '../simulate/simulate.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { UnknownElementError } from '../atomic/elements.ts';
import type { AloneOptions } from './conditions.ts';
import { identify } from './identify.ts';
import { readInstrument } from './instrument.ts';
import { readKnown } from './known.ts';
import { planMeasurement } from './plan.ts';
import { TooFewCountsError } from './prepare.ts';

const chalk = massFractionsOf('CaCO3');
/** Wide channels: plans compare many readings. */
const WIDE = { beamKev: 20, channels: 512, axis: { offsetEv: 0, gainEv: 40 }, seed: 4 };
const measured = (composition: string, totalCounts = 1e5): Spectrum =>
  simulate({ composition }, { ...WIDE, totalCounts });
const CONDUCTORS: [string, (spectrum: Spectrum, options: AloneOptions) => unknown][] = [
  ['identify', identify],
  ['plan', planMeasurement],
  ['known', (spectrum, options) => readKnown(spectrum, chalk, options)],
  ['instrument', readInstrument],
];

describe.each(CONDUCTORS)('%s', (_, read) => {
  const spectrum = measured('CaCO3', 3000);

  it('refuses what is not an element, not a mounting, not enough', () => {
    expect(() => read(spectrum, { without: ['Ca', 'Xx'] })).toThrow(UnknownElementError);
    expect(() => read(spectrum, { without: ['Xx'] })).toThrow(
      "'Xx' is not an element symbol; write it like Pb, Bi or O",
    );
    expect(() => read(spectrum, { mount: ['moonstone'] })).toThrow(UnknownMountError);
    expect(() => read(measured('CaCO3', 20), {})).toThrow(TooFewCountsError);
  });

  it('goes by the beam and the barred elements it is given', () => {
    const plain = JSON.stringify(read(spectrum, {}));
    expect(JSON.stringify(read(spectrum, { beamKev: 18 }))).not.toBe(plain);
    // Of a known material, what its label holds is never barred.
    const own = read === CONDUCTORS[2][1];
    expect(JSON.stringify(read(spectrum, { without: ['Ca'] })) === plain).toBe(own);
  });
});

describe('a known material', () => {
  const stained = simulate(
    {
      composition: [
        { formula: 'CaCO3', massFraction: 0.6 },
        { formula: 'Cu', massFraction: 0.4 },
      ],
    },
    { ...WIDE, totalCounts: 5000 },
  );

  it('is read without the elements that are barred', () => {
    expect(readKnown(stained, chalk).contradictions.join()).toMatch(/Copper is present/);
    expect(readKnown(stained, chalk, { without: ['Cu'] }).contradictions.join()).not.toMatch(/Copper/);
  });
});

describe('a plan', () => {
  const red = measured('HgS', 2e4);

  it('asks what would settle a claim: at the most that could hide here, or as it is there', () => {
    const { questions, present } = planMeasurement(red, { claim: ['Cu', 'Hg'] });
    expect(present).toContain('Hg');
    const copper = questions.find(({ question }) => question.symbol === 'Cu')!.question;
    const limit = identify(red).elements.find(({ symbol }) => symbol === 'Cu')!.limit!.massFraction;
    expect(copper).toMatchObject({ why: 'claimed', instead: [] });
    expect(Math.abs(copper.withIt[29] / limit - 1)).toBeLessThan(1e-9);
    expect(copper.without[29]).toBe(0);
    const mercury = questions.find(({ question }) => question.symbol === 'Hg')!;
    expect(mercury.question.withIt[80]).toBeGreaterThan(0.5);
    expect(mercury.proposal).not.toBeNull();
  });

  it('is made for the amount that is claimed, of what is there too', () => {
    const claim = ['Cu', 'Hg', 'S'].map((symbol, i) => ({ symbol, massFraction: 0.3 - 0.1 * i }));
    const { questions } = planMeasurement(red, { claim });
    for (const { symbol, massFraction } of claim) {
      const { question } = questions.find((one) => one.question.symbol === symbol)!;
      expect(question.why).toBe('claimed');
      expect(question.withIt[question.z]).toBeCloseTo(massFraction, 12);
      expect(question.withIt.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 9);
    }
  });

  it('asks what tells barred elements from what would take their place, and leaves the rest as it was', () => {
    const usual = planMeasurement(red);
    const { questions, present } = planMeasurement(red, { without: ['S', 'Hg'] });
    expect(present).toEqual(usual.present);
    expect(questions.slice(0, -1)).toEqual(usual.questions);
    const { question } = questions.at(-1)!;
    expect(question).toMatchObject({ symbol: 'Hg', also: ['S'], why: 'barred' });
    expect(question.instead).toEqual(identify(red, { without: ['S', 'Hg'] }).without!.instead);
    expect(question.without[80] + question.without[16]).toBe(0);
  });

  it('takes no option that it would ignore', () => {
    // The compiler's word is enough.
    const ignored = (): unknown => [
      // @ts-expect-error oxygen is not an option of a plan
      planMeasurement(red, { oxygen: 'oxides' }),
      // @ts-expect-error nor is a date
      planMeasurement(red, { dated: 1200 }),
    ];
    void ignored;
    expect(() => planMeasurement(red, { claim: ['hg'] })).toThrow(UnknownElementError);
  });
});
