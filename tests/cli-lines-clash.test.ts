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

  it('gives the lines near an energy, nearest first: Pb Mα, S Kα and Mo Lα near 2.3 keV', async () => {
    const lines = await json<LineJson[]>(['lines', '--near', '2.32keV', '--within', '60eV'], LINES_SCHEMA);
    const distances = lines.map(({ energyEv }) => Math.abs(energyEv - 2320));
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
    expect(Math.max(...distances)).toBeLessThanOrEqual(60);
    const named = lines.map(({ symbol, siegbahn }) => `${symbol} ${siegbahn}`);
    for (const name of ['Pb Mα1', 'S Kα1', 'Mo Lα1']) expect(named).toContain(name);
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

  it('prints sentences and tables for people', async () => {
    const { code, stdout } = await limner(['clash', 'Pb', 'S']);
    expect(code).toBe(0);
    expect(stdout).toMatch(/Lines that coincide/);
    expect(stdout).toMatch(/Lines that settle it/);
  });
});
