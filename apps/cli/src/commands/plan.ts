import { planMeasurement, type PlanOptions, planText } from '@limner/core';
import { messageOf } from '@limner/session';
import type { Command } from 'commander';
import { examples } from '../examples.ts';
import { addSpectrumOptions, readInput, type SpectrumFlags, spectrumOptions } from '../inputs.ts';
import { complain, exitCodeOf, type Io, UsageError, widthOf } from '../io.ts';
import { numberValue } from '../values.ts';

interface Flags extends SpectrumFlags {
  readonly grain?: string;
  readonly json?: true;
}

export function addPlan(program: Command, io: Io, exit: (code: number) => void): void {
  const command = program
    .command('plan')
    .summary('propose the next measurement where a spectrum leaves something open')
    .description(
      'For each element that is open, claimed or excluded, simulates further measurements under both explanations and proposes the cheapest one that settles the question.',
    )
    .argument('<file>', "spectrum to read; '-' is standard input");
  addSpectrumOptions(command)
    .option('--grain <UM@DENSITY>', 'diameter in µm and density in g/cm3, like 3@8.1: does the beam stay in the grain?')
    .option('--json', 'print the plan as one JSON object')
    .addHelpText('after', examples(io.command, 'plan grain-07.msa --grain 4@6.8'))
    .action(async (file: string, flags: Flags) => exit(await planFile(io, file, flags)));
}

async function planFile(io: Io, file: string, flags: Flags): Promise<number> {
  const { axis, options } = spectrumOptions(flags);
  const plan: PlanOptions = {
    ...options,
    ...(flags.grain !== undefined && { grain: grainValue(flags.grain) }),
  };
  try {
    const found = planMeasurement(await readInput(io, file, axis), plan);
    io.stdout.write(flags.json ? `${JSON.stringify(forJson(found))}\n` : planText(found, { width: widthOf(io) }));
    return exitCodeOf(1, 0);
  } catch (error) {
    complain(io, messageOf(error));
    return exitCodeOf(0, 1);
  }
}

/** Without the compositions of both explanations: arrays of 99 numbers are for the machine alone. */
function forJson(plan: ReturnType<typeof planMeasurement>): unknown {
  return {
    ...plan,
    questions: plan.questions.map(({ question: { symbol, z, also, why, instead, withIt }, ...rest }) => ({
      symbol,
      z,
      also,
      why,
      massFraction: withIt[z],
      instead,
      ...rest,
    })),
  };
}

/** @throws UsageError */
function grainValue(text: string): NonNullable<PlanOptions['grain']> {
  const [diameter = '', density, ...more] = text.split('@');
  if (density === undefined || more.length > 0)
    throw new UsageError(`--grain ${text}: give diameter in µm and density in g/cm3, like 3@8.1`);
  return {
    diameterUm: numberValue('--grain', diameter, 'µm', 0.01, 1000),
    densityGPerCm3: numberValue('--grain', density, 'g/cm3', 0.1, 25),
  };
}
