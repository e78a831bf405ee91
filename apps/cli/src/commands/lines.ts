import { byExpectedStrength, type ExpectedLine, expectedLines, linesNear, linesOf, linesText, zOf } from '@limner/core';
import type { Command } from 'commander';
import { examples } from '../examples.ts';
import { EXIT, type Io, UsageError, widthOf } from '../io.ts';
import { beamValue, energyValue, symbolValue } from '../values.ts';

interface Flags {
  readonly near?: string;
  readonly within?: string;
  readonly beam?: string;
  readonly full?: true;
  readonly json?: true;
}

const DEFAULT_WITHIN = '60eV';
const DEFAULT_BEAM = '20';

export function addLines(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('lines')
    .summary('list the X-ray lines of an element, or those near an energy')
    .description(
      'Prints the X-ray lines of an element, or those near an energy, the strongest first; lines that the beam does not excite come last.',
    )
    .argument('[symbol]', 'element, like Pb or lead; with --near, only its lines')
    .option('--near <ENERGY>', 'energy, like 2.35keV or 2350eV (keV without a unit)')
    .option(
      '--within <WIDTH>',
      `greatest distance from that energy, like 60eV (eV without a unit; default ${DEFAULT_WITHIN})`,
    )
    .option('--beam <KEV>', `beam energy in keV for the strengths (default ${DEFAULT_BEAM})`)
    .option('--full', 'also print faint lines and, near an energy, rare elements')
    .option('--json', 'print one JSON array')
    .addHelpText('after', examples(io.command, 'lines Pb', 'lines --near 2.35keV --within 60eV'))
    .action((symbol: string | undefined, flags: Flags) => {
      const near = flags.near === undefined ? undefined : energyValue('--near', flags.near, 'keV');
      const beamKev = beamValue('--beam', flags.beam ?? DEFAULT_BEAM);
      const lines = chosenLines(symbol, near, flags.within, 1000 * beamKev);
      const length = flags.full ? 'full' : 'brief';
      const text = (): string => linesText(lines, { nearEv: near ?? null, beamKev }, { width: widthOf(io), length });
      io.stdout.write(flags.json ? `${JSON.stringify(lines.map(plain))}\n` : text());
      exit(EXIT.done);
    });
}

/** @throws UsageError */
function chosenLines(
  symbol: string | undefined,
  near: number | undefined,
  within: string | undefined,
  beamEv: number,
): ExpectedLine[] {
  const z = symbol === undefined ? undefined : zOf(symbolValue('lines', symbol));
  if (near === undefined) {
    if (within !== undefined) throw new UsageError('lines: --within needs --near');
    if (z === undefined) throw new UsageError('lines: give an element, like Pb, or an energy, like --near 2.35keV');
    return expectedLines(linesOf(z), beamEv);
  }
  const lines = linesNear(near, energyValue('--within', within ?? DEFAULT_WITHIN, 'eV'));
  return byExpectedStrength(z === undefined ? lines : lines.filter((line) => line.z === z), beamEv);
}

/** The shape that others rely on. */
function plain({ line: { symbol, z, iupac, siegbahn, energyEv, relative, source } }: ExpectedLine) {
  return { symbol, z, line: iupac, siegbahn, energyEv, relative, source };
}
