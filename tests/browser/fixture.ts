import type { ElementFinding, LimnerRecord, PigmentStanding, Reading } from '@limner/core';

/**
 * A hand-made reading of an invented lead-tin yellow grain, for tests of the page alone: Gaussians on a smooth background, seeded noise.
 * Line energies from the X-Ray Data Booklet, Table 1-2; all amounts and verdicts are invented.
 */
const CHANNELS = 2048;
const GAIN_EV = 10;

type FixtureLine = readonly [line: string, siegbahn: string | null, energyEv: number, counts: number];

const ELEMENT_LINES: Record<string, readonly FixtureLine[]> = {
  C: [['K-L3', 'Kα1', 277, 2100]],
  O: [['K-L3', 'Kα1', 524.9, 6400]],
  Si: [['K-L3', 'Kα1', 1739.98, 260]],
  Sn: [
    ['L3-M5', 'Lα1', 3443.98, 21_000],
    ['L2-M4', 'Lβ1', 3662.8, 13_800],
    ['L3-N5', 'Lβ2', 3904.86, 4900],
    ['L2-N4', 'Lγ1', 4131.12, 1500],
  ],
  Pb: [
    ['M5-N7', 'Mα1', 2345.5, 52_000],
    ['M4-N6', 'Mβ', 2442, 21_000],
    ['L3-M1', 'Ll', 9184.5, 240],
    ['L3-M5', 'Lα1', 10_551.5, 5200],
    ['L2-M4', 'Lβ1', 12_613.7, 2300],
    ['L2-N4', 'Lγ1', 14_764.4, 260],
  ],
};

const fwhmEv = (energyEv: number): number => Math.sqrt(60 ** 2 + 2.45 * energyEv);

/** Counts per channel of a Gaussian line. */
function gaussian(energyEv: number, counts: number): Float64Array {
  const sigma = fwhmEv(energyEv) / 2.3548;
  return Float64Array.from({ length: CHANNELS }, (_, i) => {
    const t = (i * GAIN_EV - energyEv) / sigma;
    return Math.abs(t) > 6 ? 0 : (counts * GAIN_EV * Math.exp(-0.5 * t * t)) / (sigma * Math.sqrt(2 * Math.PI));
  });
}

const added = (parts: readonly Float64Array[]): Float64Array =>
  parts.reduce((sum, part) => sum.map((value, i) => value + part[i]), new Float64Array(CHANNELS));

/** Gaussian noise of Poisson variance from a small seeded generator. */
function noisy(expected: Float64Array, seed: number): Float64Array {
  let state = seed;
  const next = () => (state = (state * 1_103_515_245 + 12_345) % 2_147_483_648) / 2_147_483_648;
  return expected.map((mean) => {
    const gauss = Math.sqrt(-2 * Math.log(next() + 1e-12)) * Math.cos(2 * Math.PI * next());
    return Math.max(0, Math.round(mean + gauss * Math.sqrt(mean)));
  });
}

const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);

function curvesOf(): Reading['curves'] {
  const energyEv = Float64Array.from({ length: CHANNELS }, (_, i) => i * GAIN_EV);
  const inFit = (ev: number) => ev >= 150 && ev <= 19_500;
  const background = energyEv.map((ev) =>
    inFit(ev) ? (420 * (20_000 - ev)) / (ev + 900) / (1 + (700 / (ev + 50)) ** 3) / 20 : 0,
  );
  const layers = Object.entries(ELEMENT_LINES).map(([name, lines]) => ({
    kind: 'element' as const,
    name,
    counts: added(lines.map(([, , energy, counts]) => gaussian(energy, counts))),
  }));
  const escape = { kind: 'artefact' as const, name: 'escape', counts: gaussian(3443.98 - 1740, 190) };
  const all = [...layers, escape];
  const model = added([background, ...all.map(({ counts }) => counts)]);
  const odd = gaussian(5412, 900);
  return { energyEv, counts: noisy(added([model, odd]), 7), total: model, background, layers: all };
}

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

function elements(): ElementFinding[] {
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

const pigments = (): PigmentStanding[] => [
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
