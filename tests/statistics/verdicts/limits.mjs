// Do limits hold? The record of the pure host states a limit for a hidden element; the host with 0.5, 1.0 and 1.5 times that content
// is read again. After `npm run build`:
//   node limits.mjs [--core CHECKOUT] [--seeds N] [--first SEED] [--physics own|bent|other] [--pair NUMBER,...] [--json FILE]
// own: the project's simulator as it is; bent: with its perturbations, one standard deviation each; other: ../other-physics (Python).
// Same detector and physics for host and mixture, counts drawn afresh.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { commandLine, saveRows } from './core.mjs';
import { median, share, table } from './table.mjs';

/** Hidden element, host, keV, counts; each pair shares lines (common practice, see data/pigments/clashes.csv). */
const PAIRS = [
  ['Na', 'ZnO', 15, 300_000],
  ['Ti', 'BaSO4', 20, 300_000],
  ['S', 'PbCO3', 20, 300_000],
  ['Mo', 'PbS', 20, 300_000],
  ['As', 'PbO', 20, 300_000],
  ['Co', 'Fe2O3', 20, 1_000_000],
  ['Mn', 'Cr2O3', 20, 1_000_000],
  ['P', 'ZrSiO4', 20, 300_000],
  ['F', 'Fe2O3', 10, 300_000],
  ['Cd', 'KCl', 20, 300_000],
  ['Cl', 'Ag', 20, 300_000],
  ['V', 'TiO2', 20, 300_000],
];
const TIMES = [0.5, 1, 1.5];
/** Bent as in grains.ts. */
const BENT = {
  lineRatio: 0.1,
  family: 0.15,
  attenuation: 0.05,
  continuum: 0.1,
  noise: 0.05,
  tail: 0.3,
  window: 0.15,
  offsetEv: 4,
  gain: 0.001,
};
/** A limit above this content cannot be tested at 1.5 times. */
const MOST = 0.6;

const { values } = await commandLine({
  seeds: { type: 'string', default: '20' },
  first: { type: 'string', default: '5000' },
  physics: { type: 'string', default: 'bent' },
  pair: { type: 'string' },
  python: { type: 'string', default: '/usr/bin/python3' },
});
const { identify, readSpectrum, simulate } = values.core;
const chosen = values.pair?.split(',').map((number) => PAIRS[Number(number) - 1]) ?? PAIRS;
const seeds = Array.from({ length: Number(values.seeds) }, (_, k) => Number(values.first) + k);

/** Spectra of [{parts, beamKev, counts, seed, noise}], by the physics asked for. */
function spectraOf(asked) {
  if (values.physics === 'other') return byOtherPhysics(asked);
  return asked.map(({ parts, beamKev, counts, seed, noise }) =>
    simulate(
      { composition: parts.map(([formula, massFraction]) => ({ formula, massFraction })) },
      {
        beamKev,
        takeOffDeg: 35,
        totalCounts: counts,
        seed: noise,
        ...(values.physics === 'bent' ? { perturb: { seed, ...BENT } } : {}),
      },
    ),
  );
}

function byOtherPhysics(asked) {
  const folder = mkdtempSync(join(tmpdir(), 'limits-'));
  try {
    const files = asked.map((_, k) => join(folder, `${k}.msa`));
    const input = JSON.stringify(asked.map((one, k) => ({ ...one, out: files[k] })));
    const script = new URL('../other-physics/contents.py', import.meta.url).pathname;
    execFileSync(values.python, [script], { input, stdio: ['pipe', 'inherit', 'inherit'] });
    return files.map((file) => readSpectrum(readFileSync(file), { name: 'contents' }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const findingOf = (record, symbol) => record.elements.find((element) => element.symbol === symbol);
const reading = (spectrum, symbol) => identify(spectrum, { claim: [symbol] });

/** Rows of one pair: for every seed the limit, and what was said at each multiple of it. */
function tried([symbol, host, beamKev, counts]) {
  const base = { beamKev, counts };
  const hosts = spectraOf(seeds.map((seed) => ({ ...base, parts: [[host, 1]], seed, noise: seed + 1_000_000 })));
  const limits = hosts.map((spectrum) => {
    const record = reading(spectrum, symbol);
    const { limit, verdict } = findingOf(record, symbol) ?? { limit: null, verdict: 'not-seen' };
    return { limit: limit?.massFraction ?? null, verdict, answer: record.claims[0].answer };
  });
  const asked = seeds.flatMap((seed, k) =>
    TIMES.map((times, t) => ({ seed, k, times, content: times * limits[k].limit, noise: seed + (t + 2) * 1_000_000 })),
  );
  const possible = asked.filter(({ k, content }) => limits[k].limit > 0 && content < MOST);
  const spectra = spectraOf(
    possible.map(({ seed, noise, content }) => ({
      ...base,
      seed,
      noise,
      parts: [
        [host, 1 - content],
        [symbol, content],
      ],
    })),
  );
  const answers = spectra.map((spectrum, n) => {
    const record = reading(spectrum, symbol);
    const finding = findingOf(record, symbol);
    const { times, content, seed } = possible[n];
    const told = { verdict: finding?.verdict ?? 'not-seen', answer: record.claims[0].answer };
    return {
      seed,
      times,
      content,
      ...told,
      measured: finding?.massFraction?.value ?? null,
      limit: finding?.limit?.massFraction ?? null,
    };
  });
  return { pair: `${symbol} in ${host}`, limits, answers };
}

function lineOf({ pair, limits, answers }) {
  const known = limits.map(({ limit }) => limit).filter((limit) => limit > 0);
  const cells = TIMES.flatMap((times) => {
    const own = answers.filter((answer) => answer.times === times);
    const part = (is) => share(own.filter(is).length, own.length, 0);
    return [
      part(({ verdict }) => verdict === 'present'),
      ...(times === 0.5 ? [part(({ answer }) => answer === 'cannot-tell' || answer === 'supported')] : []),
      part(({ answer }) => answer === 'contradicted'),
    ];
  });
  return [
    pair,
    known.length > 0 ? `${(100 * median(known)).toPrecision(2)} %` : '-',
    limits.filter(({ verdict }) => verdict === 'present').length,
    limits.length - known.length,
    answers.length / TIMES.length,
    ...cells,
  ];
}

const results = [];
for (const pair of chosen) {
  results.push(tried(pair));
  console.error(lineOf(results.at(-1)).join('  '));
}
saveRows(values.json, results);
console.log(
  `${values.physics} physics, ${seeds.length} seeds from ${seeds[0]}. Limit: median, by mass. Found: 'present', per cent. Denied: the claim 'contradicted'.\n` +
    `False: 'present' in the pure host. No limit: none stated there. Could hide: the claim answered 'cannot-tell' or 'supported'.\n`,
);
console.log(
  table(
    [
      'pair',
      'limit',
      'false',
      'no limit',
      'tried',
      '0.5: found',
      'could hide',
      'denied',
      '1.0: found',
      'denied',
      '1.5: found',
      'denied',
    ],
    results.map(lineOf),
  ),
);
