import { describe, expect, it } from 'vitest';
import { identify } from '../reading/identify.ts';
import { simulate } from '../simulate/simulate.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { detectorBrings, holderBrings } from './detector-brings.ts';

const AL = 13;

// Scattered electrons and X-rays reach stub, holder and chamber: common practice, no source. How much: one measured spectrum, see the source.
describe('aluminium of the holder', () => {
  it.each([
    ['half a per cent of the counts', 4990, 0, true],
    ['more', 5010, 0, false],
    ['as little, with as much silicon', 4990, 5100, false],
    ['as little, with less silicon', 4990, 4900, true],
  ])('may be all there is: %s', (_, aluminium, silicon, all) => {
    expect(holderBrings(AL, aluminium / 1e6, silicon / 1e6)).toBe(all);
  });

  it('is no other element', () => {
    expect(holderBrings(12, 1e-4, 0)).toBe(false);
  });

  it.each([
    ['a trace in copper is open', 'Cu', 0.004, 'open'],
    ['a main part is present', 'Cu', 0.1, 'present'],
    ['a trace in a glass is present', 'SiO2', 0.006, 'present'],
  ])('in verdicts: %s', (_, host, massFraction, verdict) => {
    const composition = [
      { formula: host, massFraction: 1 - massFraction },
      { formula: 'Al', massFraction },
    ];
    const { elements } = identify(simulate({ composition }, { beamKev: 15, totalCounts: 1_500_000, seed: 3 }));
    const aluminium = elements.find(({ symbol }) => symbol === 'Al')!;
    expect([aluminium.verdict, aluminium.origin]).toEqual([verdict, verdict === 'open' ? 'either' : 'specimen']);
  });
});

it('a detector brings aluminium and silicon, and silicon no longer where the session told how much', () => {
  const fit = (artefacts?: object): SpectrumFit => ({ at: { prior: { artefacts } } }) as unknown as SpectrumFit;
  const told = { 'detector silicon': { mean: 1, sigma: 0.2 } };
  const shelf = { 'charge shelf': { mean: 0.01, sigma: 0.001 } };
  expect([14, 13, 20].map((z) => detectorBrings(fit(), z).atMost > 0)).toEqual([true, true, false]);
  expect([14, 13, 20].map((z) => detectorBrings(fit(shelf), z).atMost > 0)).toEqual([true, true, false]);
  expect([14, 13, 20].map((z) => detectorBrings(fit(told), z).atMost > 0)).toEqual([false, true, false]);
});
