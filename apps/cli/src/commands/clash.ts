import { clash, type Clash, type ClashLine, tabulate, wrap } from '@limner/core';
import { type Command, Option } from 'commander';
import { EXIT, type Io, UsageError } from '../io.ts';
import { beamValue, symbolValue } from '../values.ts';

interface Flags {
  readonly beam?: string;
  /** The option's former name. */
  readonly kev?: string;
  readonly json?: true;
}

/** Most rows of each table that are printed; the JSON has all. */
const MOST_ROWS = 12;

export function addClash(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('clash')
    .summary('which lines of two elements collide, and which settle it')
    .description(
      'Says which lines of two elements fall together, whether their shapes still tell them apart, and which lines settle it.',
    )
    .argument('<a>', 'element, like Pb')
    .argument('<b>', 'the other element, like S')
    .option('--beam <KEV>', 'beam energy in keV (20 unless given)')
    .addOption(new Option('--kev <KEV>').hideHelp().conflicts('beam'))
    .option('--json', 'print one JSON object')
    .addHelpText('after', '\nExample:\n  limner clash Pb S --beam 15')
    .action((a: string, b: string, flags: Flags) => {
      for (const symbol of [a, b]) symbolValue('clash', symbol);
      const found = colliding(a, b, beamFrom(flags));
      io.stdout.write(flags.json ? `${JSON.stringify(found)}\n` : asText(found));
      exit(EXIT.done);
    });
}

/** @throws UsageError */
function beamFrom({ beam, kev }: Flags): { readonly beamKev?: number } {
  if (beam !== undefined) return { beamKev: beamValue('--beam', beam) };
  return kev === undefined ? {} : { beamKev: beamValue('--kev', kev) };
}

/** @throws UsageError where core refuses the elements */
function colliding(a: string, b: string, options: { readonly beamKev?: number }): Clash {
  try {
    return clash(a, b, options);
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(`clash: ${error.message}`, { cause: error });
    throw error;
  }
}

function asText({ elements: [a, b], beamKev, fwhmMnEv, pairs, settling, summary }: Clash): string {
  const lines = [
    ...wrap(summary),
    '',
    `${a} and ${b} at ${beamKev} keV, with a resolution of ${fwhmMnEv} eV (FWHM at 5.9 keV)`,
  ];
  if (pairs.length > 0) {
    const rows = pairs
      .slice(0, MOST_ROWS)
      .map((pair) => [named(pair.a), named(pair.b), pair.separationEv.toFixed(1), pair.separable ? 'yes' : 'no']);
    const heading = [`line of ${a}, keV`, `line of ${b}, keV`, 'apart, eV', 'shapes tell them apart'];
    lines.push('', 'Lines that fall together', ...tabulate([heading, ...rows], ['left', 'left', 'right', 'left'], 2));
    lines.push(...left(pairs.length));
  }
  if (settling.length > 0) {
    const rows = settling
      .slice(0, MOST_ROWS)
      .map((line) => [
        line.symbol,
        named(line),
        line.relative.toPrecision(2),
        line.excited ? 'yes' : `above ${line.edgeKev} keV`,
      ]);
    const heading = ['', 'line, keV', 'of its family', 'excited'];
    lines.push('', 'Lines that settle it', ...tabulate([heading, ...rows], ['left', 'left', 'right', 'left'], 2));
    lines.push(...left(settling.length));
  }
  return `${lines.join('\n')}\n`;
}

const named = ({ line, siegbahn, energyEv }: ClashLine): string =>
  `${line}${siegbahn ? ` (${siegbahn})` : ''} ${(energyEv / 1000).toFixed(3)}`;

const left = (count: number): string[] => (count > MOST_ROWS ? [`  and ${count - MOST_ROWS} more with --json`] : []);
