// Every option of the commands that read one spectrum does what is named here.
import type { LimnerRecord } from '@limner/core';
import { describe, expect, it } from 'vitest';
import { isJson, json, proves, readingRows, row, told, type Told } from './fixtures/option-rows.ts';

describe('limner identify', () => {
  const record = json<LimnerRecord>;
  const said = (run: Told) => record(run).brightness.said.map(({ order, name }) => `${order} ${name}`);
  const red = ['red.msa', '--json'];
  proves('identify', [
    ...readingRows(red, ['white.msa', '--json'], record),
    row(
      ['channels/c.msa', '--json'],
      ['--axis', '40,0'],
      (run) => json<LimnerRecord | null>(run)?.axis.header.gainEv,
      40,
    ),
    row(red, ['--brighter-than', 'white.msa'], said, ['brighter-than white.msa']),
    row(red, ['--darker-than', 'white.msa'], said, ['darker-than white.msa']),
    row(red, ['--seen', 'colour=red,uv=not-looked'], (run) => record(run).seen?.observations, [
      { property: 'colour', value: 'red' },
    ]),
    row(['red.msa'], ['--full'], ({ stdout }) => stdout.includes('Ledger of all counts'), true),
    row(['red.msa'], ['--json'], isJson, true),
  ]);

  it('--axis for a file that has its own is a warning', async () => {
    const run = await told(['identify', ...red, '--axis', '5,0']);
    expect(record(run).warnings.map(({ code }) => code)).toContain('axis-option-unused');
  });
});

describe('limner plan', () => {
  interface Plan {
    readonly beamKev: { readonly value: number; readonly origin: string };
    readonly present: readonly string[];
    readonly questions: readonly {
      readonly symbol: string;
      readonly why: string;
      readonly massFraction: number;
      readonly reach: object | null;
    }[];
    readonly warnings: readonly string[];
  }
  const plan = json<Plan>;
  const asked = (run: Told) => plan(run).questions.map(({ symbol, why }) => `${symbol} ${why}`);
  const red = ['red.msa', '--json'];
  proves('plan', [
    row(red, ['--beam', '18'], (run) => plan(run).beamKev, { value: 18, origin: 'option' }),
    row(
      ['channels/c.msa', '--json'],
      ['--axis', '40,0'],
      (run) => json<Plan | null>(run)?.present.includes('Ti'),
      true,
    ),
    row(['trace.msa', '--json'], ['--mount', 'copper-tape'], asked, ['Cu open']),
    row(red, ['--claim', 'Cu'], asked, expect.arrayContaining(['Cu claimed'])),
    row(
      red,
      ['--claim', 'Cu=25%'],
      (run) =>
        plan(run)
          .questions.find(({ symbol }) => symbol === 'Cu')
          ?.massFraction.toFixed(6),
      '0.250000',
    ),
    row(red, ['--without', 'Hg,S'], asked, expect.arrayContaining(['Hg barred'])),
    row([...red, '--claim', 'Hg'], ['--grain', '3@8'], (run) => plan(run).questions.some(({ reach }) => reach), true),
    row(['red.msa'], ['--json'], isJson, true),
  ]);

  it('--axis for a file that has its own is a warning', async () => {
    expect(plan(await told(['plan', ...red, '--axis', '5,0'])).warnings.join()).toMatch(/its own energy axis/);
  });

  it('--claim of what no such spectrum shows is a warning', async () => {
    expect(plan(await told(['plan', ...red, '--claim', 'H'])).warnings.join()).toMatch(/^H is not among/);
  });

  it('--without of what the explanation does not use is a warning', async () => {
    expect(plan(await told(['plan', ...red, '--without', 'Cu'])).warnings.join()).toMatch(/does not use Cu/);
  });
});
