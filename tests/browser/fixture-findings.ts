import type { ElementFinding, PigmentStanding } from '@limner/core';
import { ELEMENT_LINES } from './fixture-curves.ts';

// What is said of the elements and pigments of the invented grain; all of it invented.

function finding(symbol: string, z: number, more: Partial<ElementFinding>): ElementFinding {
  const lines = ELEMENT_LINES[symbol] ?? [];
  const counts = lines.reduce((sum, [, , , n]) => sum + n, 0);
  return {
    symbol,
    z,
    verdict: 'present',
    probability: 0.99996,
    counts: { value: counts, sigma: 2.1 * Math.sqrt(counts) },
    massFraction: null,
    limit: { counts: 130, massFraction: 0.0024 },
    under: null,
    origin: 'specimen',
    evidence: { deltaC: 0.9 * counts, margin: 0.4 * counts },
    correlations: [],
    lines: lines.map(([line, siegbahn, energyEv, n]) => ({ line, siegbahn, energyEv, counts: n })),
    rivals: [],
    reason: '',
    ...more,
  };
}

export function elements(): ElementFinding[] {
  return [
    finding('Pb', 82, {
      massFraction: { value: 0.612, sigma: 0.041 },
      reason: 'its M and L lines are all there in the expected proportion; no rival carries both',
      rivals: [
        {
          kind: 'element',
          name: 'S',
          deltaC: 8120,
          settling: [
            {
              symbol: 'Pb',
              line: 'L3-M5',
              energyEv: 10_551.5,
              expectedWith: 5190,
              expectedInstead: 0,
              observed: 5231,
              sigma: 88,
            },
          ],
        },
      ],
    }),
    finding('Sn', 50, {
      massFraction: { value: 0.178, sigma: 0.012 },
      reason: 'four L lines stand where they should, each clear of its neighbours',
      rivals: [
        {
          kind: 'element',
          name: 'Ca+Sb',
          deltaC: 3710,
          settling: [
            {
              symbol: 'Sn',
              line: 'L3-M5',
              energyEv: 3443.98,
              expectedWith: 20_900,
              expectedInstead: 310,
              observed: 21_020,
              sigma: 190,
            },
          ],
        },
      ],
    }),
    finding('O', 8, {
      massFraction: { value: 0.19, sigma: 0.05 },
      reason: 'its K line stands alone at 0.52 keV',
      origin: 'either',
    }),
    finding('C', 6, { reason: 'its K line is there, as on every coated or embedded specimen', origin: 'setting' }),
    finding('Si', 14, {
      verdict: 'open',
      probability: 0.41,
      counts: { value: 260, sigma: 95 },
      evidence: { deltaC: 7.4, margin: 0.6 },
      reason: 'its only line lies on the escape peak of tin, which explains the counts about as well',
      rivals: [{ kind: 'artefact', name: 'escape', deltaC: 0.6, settling: [] }],
    }),
    finding('Fe', 26, notSeen('no counts above the background at its lines')),
    finding('S', 16, {
      ...notSeen('its K line lies under the M lines of lead'),
      limit: { counts: 5200, massFraction: 0.031 },
      under: 'Pb',
    }),
    finding('Sb', 51, notSeen('the counts near its L lines are those of tin')),
    finding('Cu', 29, notSeen('no counts above the background at its lines')),
    finding('Li', 3, { ...notSeen('its only line lies below the axis'), verdict: 'blind', limit: null }),
  ];
}

const notSeen = (reason: string): Partial<ElementFinding> => ({
  verdict: 'not-seen',
  probability: 0.0002,
  counts: { value: 12, sigma: 41 },
  evidence: { deltaC: 0, margin: 0 },
  reason,
});

function pigment(id: string, name: string, more: Partial<PigmentStanding>): PigmentStanding {
  return {
    id,
    name,
    formula: '',
    class: 'pigment',
    hue: 'yellow',
    required: [],
    standing: 'allowed',
    score: 0.5,
    reason: '',
    group: 1,
    massFraction: null,
    beside: [],
    deltaC: 0,
    lookalikes: [],
    toldApartBy: [],
    followUp: '',
    hazard: 'none',
    earliestUse: null,
    latestUse: null,
    ...more,
  };
}

export const pigments = (): PigmentStanding[] => [
  pigment('lead-tin-yellow-i', 'lead-tin yellow, type I', {
    formula: 'Pb2SnO4',
    score: 0.93,
    reason: 'Lead, tin and oxygen are present, with lead to tin near 2 atoms to 1.',
    lookalikes: ['lead-tin-yellow-ii'],
    followUp: 'Raman or XRD',
    hazard: 'lead, toxic',
    earliestUse: 1300,
    latestUse: 1750,
  }),
  pigment('lead-tin-yellow-ii', 'lead-tin yellow, type II', {
    formula: 'PbSn0.75Si0.25O3',
    score: 0.58,
    reason: 'Lead and tin are present; silicon, which it needs, stays open.',
    lookalikes: ['lead-tin-yellow-i'],
    followUp: 'Raman or XRD',
    hazard: 'lead, toxic',
    earliestUse: 1300,
    latestUse: 1750,
  }),
  pigment('naples-yellow', 'Naples yellow', {
    standing: 'ruled-out',
    score: 0,
    reason: 'Antimony is not seen, below 0.24 %.',
  }),
];
