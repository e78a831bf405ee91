import { elementName, type Line, linesNear, linesOf, tabulate, zOf } from '@limner/core';
import type { Command } from 'commander';
import { EXIT, type Io, UsageError } from '../io.ts';
import { energyValue, symbolValue } from '../values.ts';

interface Flags {
  readonly near?: string;
  readonly within?: string;
  readonly json?: true;
}

const DEFAULT_WITHIN = '60eV';

export function addLines(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('lines')
    .summary('the X-ray lines of an element, or those near an energy')
    .description('Prints the X-ray lines of an element, or those near an energy, nearest first.')
    .argument('[symbol]', 'element, like Pb; with --near, only its lines')
    .option('--near <ENERGY>', 'like 2.35keV or 2350eV; a number without a unit is in keV')
    .option(
      '--within <WIDTH>',
      `how far from it, like 60eV; a number without a unit is in eV (${DEFAULT_WITHIN} unless given)`,
    )
    .option('--json', 'print one JSON array')
    .addHelpText('after', '\nExamples:\n  limner lines Pb\n  limner lines --near 2.35keV --within 60eV')
    .action((symbol: string | undefined, flags: Flags) => {
      const near = flags.near === undefined ? undefined : energyValue('--near', flags.near, 'keV');
      const lines = chosenLines(symbol, near, flags.within);
      io.stdout.write(flags.json ? `${JSON.stringify(lines.map(plain))}\n` : asText(lines, near));
      exit(EXIT.done);
    });
}

/** @throws UsageError */
function chosenLines(symbol: string | undefined, near: number | undefined, within: string | undefined): Line[] {
  const z = symbol === undefined ? undefined : zOf(symbolValue('lines', symbol));
  if (near === undefined) {
    if (within !== undefined) throw new UsageError('lines: --within goes with --near');
    if (z === undefined) throw new UsageError('lines: name an element, like Pb, or an energy, like --near 2.35keV');
    return linesOf(z);
  }
  const lines = linesNear(near, energyValue('--within', within ?? DEFAULT_WITHIN, 'eV'));
  return z === undefined ? lines : lines.filter((line) => line.z === z);
}

/** The shape that others rely on. */
function plain({ symbol, z, iupac, siegbahn, energyEv, relative, source }: Line) {
  return { symbol, z, line: iupac, siegbahn, energyEv, relative, source };
}

/** Lines with less of their subshell are left to the JSON: hardly any spectrum shows them. */
const FAINTEST = 0.01;

function asText(lines: readonly Line[], near: number | undefined): string {
  const shown = lines.filter(({ relative }) => relative >= FAINTEST);
  const fainter = lines.length - shown.length;
  const rows = shown.map(({ z, iupac, siegbahn, energyEv, relative, source, symbol }) => [
    symbol,
    elementName(z),
    iupac,
    siegbahn ?? '',
    energyEv.toFixed(1),
    near === undefined ? '' : signed(energyEv - near),
    relative.toPrecision(3),
    source,
  ]);
  const heading = [
    '',
    '',
    'line',
    'Siegbahn',
    'energy, eV',
    near === undefined ? '' : 'off by',
    'of its subshell',
    'source',
  ];
  const table =
    rows.length > 0
      ? tabulate([heading, ...rows], ['left', 'left', 'left', 'left', 'right', 'right', 'right', 'left'])
      : ['No line is known there.'];
  if (fainter > 0) table.push(`and ${fainter} below ${100 * FAINTEST} % of their subshell with --json`);
  return `${table.join('\n')}\n`;
}

const signed = (ev: number): string => (ev > 0 ? `+${ev.toFixed(1)}` : ev.toFixed(1));
