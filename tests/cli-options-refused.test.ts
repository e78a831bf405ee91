// Options that belong to other commands, or make no sense together, are refused.
import { describe, expect, it } from 'vitest';
import { offered, told, type Told } from './fixtures/option-rows.ts';

describe('refused with exit code 2, one line and nothing done', () => {
  const refused = (run: Told, message: RegExp): void => {
    expect({ code: run.code, stdout: run.stdout }).toEqual({ code: 2, stdout: '' });
    expect(run.stderr).toMatch(message);
    expect(run.stderr).toMatch(/^limner: [^\n]+\n$/);
  };
  const COMMANDS: Readonly<Record<string, readonly string[]>> = {
    identify: ['red.msa'],
    plan: ['red.msa'],
    tag: ['red', '--out', 'out'],
    simulate: ['PbCO3'],
    lines: ['Pb'],
    clash: ['Pb', 'S'],
    sheet: ['both'],
    merge: ['red', '--out', 'out'],
    show: ['red.msa'],
  };

  it.each(Object.entries(COMMANDS))('limner %s: what only other commands offer', async (command, base) => {
    const own = await offered(command);
    const all = await Promise.all(Object.keys(COMMANDS).map(offered));
    for (const option of new Set(all.flat().filter((name) => !own.includes(name))))
      refused(await told([command, ...base, option]), new RegExp(`unknown option '${option}'`));
  });

  it.each<[string[], RegExp]>([
    [['identify', 'red.msa', '--seen', 'colour=bleu'], /--seen: colour: 'bleu' is not one of/],
    [['identify', 'red.msa', '--references', 'red'], /red: there is no reference here; 'reference add'/],
    [['plan', 'red.msa', '--claim', 'Xx'], /'Xx' is not an element symbol/],
    [['lines', 'Pb', '--within', '60eV'], /--within needs --near/],
    [['clash', 'Pb', 'S', '--beam', '10', '--kev', '20'], /'--kev <KEV>' cannot be used with option '--beam <KEV>'/],
    [['sheet', 'both', '--out', '-', '--force'], /--force replaces a file/],
    [['simulate', 'PbCO3', '--force'], /--force replaces a file/],
    [['simulate', 'PbCO3', '--out', '-', '--force'], /--force replaces a file/],
    [['simulate', 'PbCO3', '--on', 'silicon'], /--on needs --film/],
    [['simulate', 'PbCO3', '--in', 'oil'], /--in needs --grain/],
    [['simulate', 'PbCO3@6.6', '--film', '1', '--grain', '2'], /give --film or --grain, not both/],
    [['simulate', 'PbCO3', '--resolving', '300'], /--resolving needs a count rate/],
    [['simulate', 'PbCO3', '--current', '1'], /give --counts, or all of --live/],
    [['simulate', 'PbCO3', '--no-noise', '--seed', '2'], /give --seed or --no-noise, not both/],
  ])('%j', async (argv, message) => refused(await told(argv), message));
});
