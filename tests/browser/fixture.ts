import type { LimnerRecord, Reading } from '@limner/core';
import { CHANNELS, curvesOf, total } from './fixture-curves.ts';
import { elements, pigments } from './fixture-findings.ts';

// A hand-made reading of an invented lead-tin yellow grain, for tests of the page alone.

/** @throws when the bytes are not those of a fixture file, as the real reader does on text that is no spectrum */
export function fixtureReading(bytes: Uint8Array, name: string): Reading {
  if (!new TextDecoder().decode(bytes).startsWith('#FORMAT'))
    throw new Error(`${name}: line 1: this is no EMSA/MAS file.`);
  const curves = curvesOf();
  return { record: recordOf(curves, name), curves, alternative: () => null };
}

function recordOf(curves: Reading['curves'], name: string): LimnerRecord {
  const counted = total(curves.counts);
  const entries = [
    { part: 'background' as const, name: 'background', counts: total(curves.background) },
    ...curves.layers.map(({ kind, name: layer, counts }) => ({ part: kind, name: layer, counts: total(counts) })),
  ];
  const explained = entries.reduce((sum, entry) => sum + entry.counts, 0);
  return {
    schema: 'limner-record/1',
    source: { name, sha256: 'f'.repeat(64), title: 'Invented grain, yellow of the mantle' },
    software: { name: 'limner', version: '0.2.0', atomicData: 'fixture', pigmentData: 'fixture' },
    ownMaterials: null,
    header: [{ key: 'BEAMKV', unit: 'keV', value: '20' }],
    conditions: {
      beamKev: { value: 20, origin: 'header' },
      takeOffDeg: { value: 35, origin: 'default' },
      liveTimeS: 60,
      channels: CHANNELS,
      totalCounts: counted,
      mount: ['carbon-stub'],
    },
    axis: {
      offsetEv: { value: -3.2, sigma: 0.6 },
      gainEv: { value: 10.004, sigma: 0.0013 },
      correlation: 0,
      header: { offsetEv: 0, gainEv: 10 },
      fwhmMnEv: { value: 131.4, sigma: 0.9 },
      rangeEv: [150, 19_500],
      shared: null,
    },
    fit: {
      c: 2104,
      expected: 1936,
      variance: 3900,
      pValue: 0.19,
      regions: [{ fromEv: 150, toEv: 19_500, c: 1990, expected: 1936, variance: 3900 }],
      channels: 1936,
      parameters: 41,
      effectiveParameters: 32.5,
      rounds: 6,
      converged: true,
      distance: 0.0002,
      dispersion: 1.01,
    },
    elements: elements(),
    pigments: pigments(),
    explanations: [
      {
        name: 'Lead-tin yellow, type I or lead-tin yellow, type II',
        parts: [
          {
            id: 'lead-tin-yellow-i',
            name: 'lead-tin yellow, type I',
            group: 1,
            massFraction: { value: 0.8, sigma: 0.1 },
            others: [{ id: 'lead-tin-yellow-ii', name: 'lead-tin yellow, type II', share: 0.4 }],
          },
        ],
        score: 0.93,
        chi2: 1.2,
        degrees: 1,
        perhaps: [],
        leftOver: [],
      },
    ],
    ratios: [tinToLead()],
    brightness: brightness(),
    dating: [],
    statedDate: null,
    ledger: [...entries, { part: 'unexplained', name: 'unexplained', counts: counted - explained }],
    peaks: [
      {
        energyEv: 5412,
        energySigmaEv: 4,
        fwhmEv: 130,
        counts: 900,
        sigma: 60,
        candidates: [
          { symbol: 'Cr', z: 24, line: 'K-L3', siegbahn: 'Kα1', energyEv: 5414.72, distanceEv: 2.7, relative: 0.58 },
        ],
        explainedBy: [],
      },
      { energyEv: 10_552, energySigmaEv: 2, fwhmEv: 172, counts: 5200, sigma: 90, candidates: [], explainedBy: ['Pb'] },
    ],
    claims: [
      {
        symbol: 'S',
        massFraction: 0.02,
        answer: 'cannot-tell',
        reason: '2 % by mass could hide here under lead: the counts leave room for up to 3.1 %.',
      },
    ],
    without: null,
    warnings: [{ code: 'take-off-default', text: 'The file gives no take-off angle; 35° was taken.' }],
    cautions: ['Lead compounds are toxic: handle the sample and its dust by your local rules.'],
  };
}

function tinToLead(): LimnerRecord['ratios'][number] {
  return {
    id: 'lead-tin-yellow-i-tin',
    numerator: ['Sn'],
    denominator: ['Pb'],
    value: { value: 0.51, sigma: 0.21 },
    counting: 0.01,
    limit: null,
    expected: { low: 0.5, high: 0.5 },
    exact: 0.5,
    agrees: 'within',
    materials: ['lead-tin-yellow-i'],
    alsoIn: [],
    tells: 'less tin: lead white beside it',
    source: ['An invented handbook; recalled'],
    trust: 'high',
  };
}

function brightness(): LimnerRecord['brightness'] {
  const backscatter = { meanZ: 63.9, low: 0.38, high: 0.47, sigma: 0.03 };
  return {
    beamKev: 20,
    identified: backscatter,
    candidates: [{ id: 'lead-tin-yellow-i', backscatter, image: 'agrees' }],
    beside: [
      { name: 'chalk', looks: 'brighter' },
      { name: 'lead white', looks: 'alike' },
    ],
    said: [{ order: 'brighter-than', name: 'ground-02.msa', backscatter: { ...backscatter, low: 0.11, high: 0.14 } }],
    image: 'agrees',
  };
}
