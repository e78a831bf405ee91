import { clash, type Clash, clashSummary, clashText, SEPARABLE_MEANS } from '@limner/core';
import { type Command, Option } from 'commander';
import { EXIT, type Io, UsageError, widthOf } from '../io.ts';
import { beamValue, symbolValue } from '../values.ts';

interface Flags {
  readonly beam?: string;
  /** The option's former name. */
  readonly kev?: string;
  readonly full?: true;
  readonly json?: true;
}

export function addClash(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('clash')
    .summary('show which lines of two elements coincide, and which settle it')
    .description(
      'Says which lines of two elements coincide, whether their shapes still separate them, and which lines settle it.',
    )
    .argument('<a>', 'element, like Pb')
    .argument('<b>', 'the other element, like S')
    .option('--beam <KEV>', 'beam energy in keV (default 20)')
    .addOption(new Option('--kev <KEV>').hideHelp().conflicts('beam'))
    .option('--full', 'print every pair and every settling line')
    .option('--json', 'print one JSON object')
    .addHelpText('after', '\nExample:\n  limner clash Pb S --beam 15')
    .action((a: string, b: string, flags: Flags) => {
      for (const symbol of [a, b]) symbolValue('clash', symbol);
      const found = coinciding(a, b, beamOf(flags));
      const length = flags.full ? 'full' : 'brief';
      io.stdout.write(
        flags.json ? `${JSON.stringify(plain(found))}\n` : clashText(found, { width: widthOf(io), length }),
      );
      exit(EXIT.done);
    });
}

/** @throws UsageError */
function beamOf({ beam, kev }: Flags): { readonly beamKev?: number } {
  if (beam !== undefined) return { beamKev: beamValue('--beam', beam) };
  return kev === undefined ? {} : { beamKev: beamValue('--kev', kev) };
}

/** The shape that others rely on. */
const plain = (found: Clash) => ({ ...found, meaning: SEPARABLE_MEANS, summary: clashSummary(found) });

/** @throws UsageError where core refuses the elements */
function coinciding(a: string, b: string, options: { readonly beamKev?: number }): Clash {
  try {
    return clash(a, b, options);
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(`clash: ${error.message}`, { cause: error });
    throw error;
  }
}
