import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { limner } from './fixtures/cli.ts';

interface LineJson {
  readonly symbol: string;
  readonly line: string;
  readonly siegbahn: string | null;
  readonly energyEv: number;
  readonly relative: number;
}

/** The shapes that others rely on: no key more, no key less. */
const LINES_SCHEMA = {
  type: 'array',
  items: {
    type: 'object',
    additionalProperties: false,
    required: ['symbol', 'z', 'line', 'siegbahn', 'energyEv', 'relative', 'source'],
    properties: {
      symbol: { type: 'string', pattern: '^[A-Z][a-z]?$' },
      z: { type: 'integer', minimum: 3, maximum: 98 },
      line: { type: 'string', pattern: '^[KLM]' },
      siegbahn: { type: ['string', 'null'] },
      energyEv: { type: 'number', exclusiveMinimum: 0 },
      relative: { type: 'number', exclusiveMinimum: 0, maximum: 1 },
      source: { type: 'string', minLength: 1 },
    },
  },
};
const CLASH_LINE = {
  type: 'object',
  required: ['line', 'energyEv'],
  properties: { line: { type: 'string' }, energyEv: { type: 'number' } },
};
const CLASH_SCHEMA = {
  type: 'object',
  required: ['pairs', 'settling'],
  properties: {
    pairs: {
      type: 'array',
      items: {
        type: 'object',
        required: ['a', 'b', 'separationEv', 'separable'],
        properties: {
          a: CLASH_LINE,
          b: CLASH_LINE,
          separationEv: { type: 'number', minimum: 0 },
          separable: { type: 'boolean' },
        },
      },
    },
    settling: { type: 'array', items: CLASH_LINE },
  },
};

async function json<T>(argv: readonly string[], schema: object): Promise<T> {
  const { code, stdout, stderr } = await limner([...argv, '--json']);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(stdout).toMatch(/^[^\n]+\n$/);
  const value = JSON.parse(stdout) as T;
  const validate = new Ajv().compile(schema);
  expect(validate(value), JSON.stringify(validate.errors)).toBe(true);
  return value;
}

describe('limner lines', () => {
  it('gives the lines of an element', async () => {
    const lines = await json<LineJson[]>(['lines', 'Pb'], LINES_SCHEMA);
    expect(new Set(lines.map(({ symbol }) => symbol))).toEqual(new Set(['Pb']));
    // X-Ray Data Booklet (LBNL/PUB-490 Rev. 3, 2009), Table 1-2: Pb Lα1 10 551.5 eV, Mα1 2345.5 eV.
    const energyOf = (name: string): number => lines.find(({ siegbahn }) => siegbahn === name)!.energyEv;
    expect(Math.abs(energyOf('Lα1') - 10_551.5)).toBeLessThan(2);
    expect(Math.abs(energyOf('Mα1') - 2345.5)).toBeLessThan(2);
  });

  it('gives the lines near an energy, those first that a spectrum would show most of', async () => {
    const lines = await json<LineJson[]>(['lines', '--near', '2.32keV', '--within', '60eV'], LINES_SCHEMA);
    expect(Math.max(...lines.map(({ energyEv }) => Math.abs(energyEv - 2320)))).toBeLessThanOrEqual(60);
    const first = lines.slice(0, 6).map(({ symbol, siegbahn }) => `${symbol} ${siegbahn}`);
    for (const name of ['Pb Mα1', 'S Kα1', 'Mo Lα1']) expect(first).toContain(name);
  });

  it('does not open with lines above the beam energy, says which those are, and folds rare elements', async () => {
    const { stdout } = await limner(['lines', '--near', '10.55keV', '--beam', '12 kV', '--within', '60eV']);
    expect(/^[A-Z][a-z]? .*$/m.exec(stdout)![0]).toMatch(/^As {2}arsenic/);
    expect(stdout).toMatch(/Pb {2}lead .*above/);
    expect(stdout).toMatch(
      /of elements rarely met in\s+paint\s+are\s+left\s+out;\s+--full\s+or\s+--json\s+prints\s+them\.\n$/,
    );
  });

  it('understands names of elements', async () => {
    expect(await limner(['lines', 'lead', '--json'])).toEqual(await limner(['lines', 'Pb', '--json']));
  });

  it('reads 2350eV, 2.35keV and 2.35 as the same energy, and is 60 eV wide unless told', async () => {
    const forms = [['2350eV'], ['2.35keV'], ['2.35'], ['2.35', '--within', '60'], ['2.35 KEV', '--within', '0.06keV']];
    const [first, ...others] = await Promise.all(
      forms.map(([near, ...rest]) => limner(['lines', '--near', near, ...rest, '--json'])),
    );
    for (const other of others) expect(other).toEqual(first);
  });

  it('prints a table for people, and says when there is nothing', async () => {
    expect((await limner(['lines', 'Pb', '--near', '10.55'])).stdout).toMatch(/Pb {2}lead +L3-M5 +Lα1 +10 551\.[0-9]/);
    expect(await limner(['lines', 'He'])).toMatchObject({ code: 0, stdout: 'No line is known there.\n' });
  });
});

describe('limner clash', () => {
  it('says that Pb and S collide, and what settles it', async () => {
    const { pairs, settling } = await json<{
      pairs: { a: { line: string }; b: { line: string }; separationEv: number; separable: boolean }[];
      settling: { symbol: string; line: string }[];
    }>(['clash', 'Pb', 'S', '--kev', '20'], CLASH_SCHEMA);
    // S Kα1 2307.8 eV against Pb Mα1 2345.5 eV (X-Ray Data Booklet, Table 1-2).
    const pair = pairs.find(({ a, b }) => a.line === 'M5-N7' && b.line === 'K-L3')!;
    expect(Math.abs(pair.separationEv - 37.7)).toBeLessThan(3);
    expect(settling.some(({ symbol, line }) => symbol === 'Pb' && line === 'L3-M5')).toBe(true);
  });

  it('answers three questions apart, and prints them with what practice advises', async () => {
    const { questions, advice, summary } = await json<{
      questions: { ask: string; symbol: string; sigma: number; countsNeeded: number | null; lines: object[] }[];
      advice: { paintContext: string; source: string[] }[];
      summary: string;
    }>(['clash', 'lead', 'S', '--beam', '15kV'], CLASH_SCHEMA);
    expect(questions.map(({ ask, symbol }) => `${symbol} ${ask}`)).toEqual([
      'Pb beside',
      'S beside',
      'Pb instead',
      'S instead',
    ]);
    for (const { sigma, countsNeeded } of questions) {
      expect(sigma).toBeGreaterThan(3);
      expect(countsNeeded).toBeLessThan(250_000);
    }
    expect(advice.some(({ paintContext }) => paintContext.includes('vermilion'))).toBe(true);
    expect(summary).toMatch(/^Lead alongside sulfur: detectable/);
    const { code, stdout } = await limner(['clash', 'Pb', 'S']);
    expect(code).toBe(0);
    expect(stdout).toMatch(/Look\s+at\s+Pb/);
    for (const part of [
      'What the counts can tell',
      'Lines that coincide',
      'Lines clear of the others',
      'From practice',
    ])
      expect(stdout).toContain(part);
    expect(stdout).not.toMatch(/separable|separates/);
  });

  it('says that no counts suffice where the doubt of the physics is larger', async () => {
    const { stdout } = await limner(['clash', 'Na', 'Zn', '--amounts', 'Zn=500', '--beam', '8']);
    expect(stdout.replace(/\s+/g, ' ')).toContain(
      'No number of counts is enough: the uncertainty of the physics remains',
    );
  });
});
