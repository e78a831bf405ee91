import type { InstrumentKnowledge } from '@limner/core';
import { expect, it } from 'vitest';
import { agree, MOVED, WIDENED } from './agreeing.ts';

const KNOWN: InstrumentKnowledge = {
  spectra: 18,
  axis: { gainEv: 10, offsetEv: -20 },
  pivotEv: 2000,
  positionSigmaEv: 0.8,
  gainSigma: 0.0004,
  noiseEv: { mean: 60, sigma: 2 },
  fano: { mean: 0.115, sigma: 0.002 },
  artefacts: { 'sum peaks': { mean: 1e-6, sigma: 1e-7 } },
  thickWindow: false,
  taught: { ratios: [], layers: {}, findings: [] },
};
const stands = (part: Partial<InstrumentKnowledge>): boolean => agree(KNOWN, { ...KNOWN, ...part });
const { offsetEv, gainEv } = KNOWN.axis;
const [little, much] = [0.9 * MOVED, 1.1 * MOVED];

it('one more spectrum alone changes nothing', () => expect(stands({ spectra: 19 })).toBe(true));

it('the axis may move by half of what it leaves open, at the pivot and in gain', () => {
  const moved = (byEv: number) => stands({ axis: { gainEv, offsetEv: offsetEv + byEv } });
  expect([moved(little * 0.8), moved(-little * 0.8), moved(much * 0.8)]).toEqual([true, true, false]);
  // Turned about the pivot, which stays.
  const turned = (by: number) => stands({ axis: { gainEv: gainEv * (1 + by), offsetEv: 2000 - 2020 * (1 + by) } });
  expect([turned(little * 0.0004), turned(much * 0.0004)]).toEqual([true, false]);
});

it('a belief may move by half of its uncertainty, and that by a quarter of itself', () => {
  const { fano, noiseEv } = KNOWN;
  for (const [part, is] of [
    [0.9, true],
    [1.1, false],
  ] as const) {
    const [by, wider] = [part * MOVED, part * WIDENED];
    expect(stands({ fano: { ...fano, mean: fano.mean + by * fano.sigma } })).toBe(is);
    expect(stands({ noiseEv: { ...noiseEv, sigma: noiseEv.sigma * (1 - wider) } })).toBe(is);
    expect(stands({ positionSigmaEv: 0.8 * (1 + wider) })).toBe(is);
    expect(stands({ artefacts: { 'sum peaks': { mean: 1e-6 + by * 1e-7, sigma: 1e-7 } } })).toBe(is);
  }
});

it('what is known of one kind only, or taught otherwise, does not stand', () => {
  expect(stands({ artefacts: {} })).toBe(false);
  expect(stands({ artefacts: { ...KNOWN.artefacts, 'charge shelf': { mean: 1, sigma: 1 } } })).toBe(false);
  expect(stands({ thickWindow: null })).toBe(false);
  expect(stands({ taught: { ...KNOWN.taught, layers: { iceUm: 0.2 } } })).toBe(false);
  expect([agree(null, KNOWN), agree(KNOWN, null), agree(null, null)]).toEqual([false, false, true]);
});
