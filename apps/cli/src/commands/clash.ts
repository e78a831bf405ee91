import {
  answerClash,
  type ClashAnswer,
  clashSummary,
  clashText,
  type OverlapOptions,
  PAPERS,
  SEPARABLE_MEANS,
} from '@limner/core';
import { type Command, Option } from 'commander';
import { writeChart } from '../chart.ts';
import { examples } from '../examples.ts';
import { EXIT, type Io, UsageError, widthOf } from '../io.ts';
import { amountsValue, beamValue, numberValue, symbolValue } from '../values.ts';

interface Flags {
  readonly beam?: string;
  /** The option's former name. */
  readonly kev?: string;
  readonly resolution?: string;
  readonly counts?: string;
  readonly amounts?: string;
  readonly all?: true;
  readonly within?: string;
  readonly out?: string;
  readonly paper?: string;
  readonly full?: true;
  readonly json?: true;
}

const EXAMPLES = [
  'clash Pb S --beam 15',
  'clash lead sulfur --amounts Pb=20,S=1 --counts 100000',
  'clash Pb S Mo --resolution 125',
  'clash --all --within 60eV --beam 20 --out chart.pdf --paper A1',
];

export function addClash(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('clash')
    .summary('say whether a measurement can separate elements whose lines coincide')
    .description(
      'For elements whose lines may coincide, says whether each can be detected alongside the others, and whether one can be mistaken ' +
        'for the others, in a thick specimen that also contains carbon and oxygen. Lists the lines that coincide, those clear of ' +
        'the others, and advice from practice.',
    )
    .argument('[elements...]', 'two or more elements, like Pb or lead')
    .option('--beam <KEV>', 'beam energy in keV (default 20)')
    .addOption(new Option('--kev <KEV>').hideHelp().conflicts('beam'))
    .option('--resolution <EV>', 'FWHM at Mn K-L3 (Kα1) in eV (default 130)')
    .option('--counts <N>', 'counts in the spectrum (default 250000)')
    .option('--amounts <LIST>', 'parts by mass, like Pb=20,S=1 (default 1 each)')
    .option('--all', 'instead, all line pairs of the elements common in paint, as a wall chart')
    .option(
      '--within <WIDTH>',
      'with --all: greatest distance between two lines, like 60eV (eV without a unit; default 60eV)',
    )
    .option('--out <FILE>', 'with --all: write the chart to this new .svg or .pdf file')
    .option('--paper <SIZE>', `with --out: ${Object.keys(PAPERS).join(', ')} (default A4)`)
    .option('--full', 'print every pair and every clear line')
    .option('--json', 'print one JSON object')
    .addHelpText('after', examples(io.command, ...EXAMPLES))
    .action(async (names: string[], flags: Flags) => {
      if (flags.all) {
        await writeChart(io, names, flags);
        return exit(EXIT.done);
      }
      if (flags.within !== undefined || flags.out !== undefined || flags.paper !== undefined)
        throw new UsageError('clash: --within, --out and --paper need --all');
      if (names.length < 2) throw new UsageError('clash: give two elements or more, like Pb S, or --all');
      const elements = names.map((text) => symbolValue('clash', text));
      const answer = answered(elements, optionsOf(flags, elements));
      const length = flags.full ? 'full' : 'brief';
      io.stdout.write(
        flags.json ? `${JSON.stringify(plain(answer))}\n` : clashText(answer, { width: widthOf(io), length }),
      );
      exit(EXIT.done);
    });
}

/** @throws UsageError */
function optionsOf({ beam, kev, resolution, counts, amounts }: Flags, elements: readonly string[]): OverlapOptions {
  return {
    ...(beam !== undefined && { beamKev: scanningBeam('--beam', beam) }),
    ...(kev !== undefined && { beamKev: scanningBeam('--kev', kev) }),
    ...(resolution !== undefined && { fwhmMnEv: numberValue('--resolution', resolution, 'eV', 1, 500) }),
    ...(counts !== undefined && { counts: numberValue('--counts', counts, '', 100, 1e8) }),
    ...(amounts !== undefined && { amounts: amountsValue('--amounts', amounts, elements) }),
  };
}

/** The expectation is that of a thick specimen under a scanning microscope. */
function scanningBeam(option: string, text: string): number {
  const kev = beamValue(option, text);
  if (kev >= 1 && kev <= 50) return kev;
  throw new UsageError(`${option} ${text}: the simulator covers 1 to 50 keV`);
}

/** The shape that others rely on: `pairs` and `settling` stay what they were. */
function plain(answer: ClashAnswer): object {
  const { lines, overlap, advice } = answer;
  return { ...lines, ...overlap, advice, meaning: SEPARABLE_MEANS, summary: clashSummary(answer) };
}

/** @throws UsageError where core refuses the elements */
function answered(elements: readonly string[], options: OverlapOptions): ClashAnswer {
  try {
    return answerClash(elements, options);
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(`clash: ${error.message}`, { cause: error });
    throw error;
  }
}
