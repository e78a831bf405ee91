// Every option of the commands for lines, overlaps and invented spectra does what is named here.
import { readSpectrum, type Spectrum } from '@limner/core';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe } from 'vitest';
import { isJson, json, proves, row, type Told } from './fixtures/option-rows.ts';

describe('limner simulate', () => {
  const spectrum = ({ stdout }: Told): Spectrum => readSpectrum(new TextEncoder().encode(stdout));
  const counts = (run: Told) => [...spectrum(run).counts];
  const sum = (run: Told) => Math.round(counts(run).reduce((total, count) => total + count, 0));
  const exact = ['PbCO3@6.6', '--no-noise'];
  const dose = [...exact, '--live', '50', '--solid-angle', '0.01', '--current', '0.5'];
  const there = ({ cwd }: Told) => readFileSync(join(cwd, 'there.msa'), 'utf8').startsWith('#FORMAT');
  proves('simulate', [
    // Pb L3-M5, 10.55 keV.
    row(exact, ['--beam', '10'], (run) => counts(run)[1055] > 100, false),
    row(exact, ['--counts', '5000'], sum, 5000),
    row(exact, ['--live', '50'], (run) => spectrum(run).liveTimeS, 50),
    row(dose, ['--current', '1'], sum),
    row(dose, ['--solid-angle', '0.02'], sum),
    row(exact, ['--coat', 'gold:10'], counts),
    row(exact, ['--film', '0.2'], counts),
    row([...exact, '--film', '0.2'], ['--on', 'silicon'], counts),
    row(exact, ['--grain', '2'], counts),
    row([...exact, '--grain', '2'], ['--in', 'glass'], counts),
    row(exact, ['--take-off', '20'], counts),
    row(exact, ['--detector', 'drift-open'], counts),
    row(exact, ['--resolution', '150'], counts),
    row([...exact, '--live', '10'], ['--resolving', '2000'], counts),
    row(exact, ['--zero-peak', '1e5'], counts),
    row(exact, ['--axis', '5,-100'], (run) => spectrum(run).axis, { gainEv: 5, offsetEv: -100 }),
    row(exact, ['--channels', '512'], (run) => counts(run).length, 512),
    row(['PbCO3'], ['--seed', '2'], counts),
    row(['PbCO3'], ['--no-noise'], (run) => counts(run).every(Number.isInteger), false),
    row(exact, ['--title', 'An invented grain'], (run) => spectrum(run).title, 'SIMULATED An invented grain'),
    row(exact, ['--out', 'new.msa'], ({ cwd }) => existsSync(join(cwd, 'new.msa')), true),
    row(exact, ['--blind'], ({ stdout }) => stdout.includes('PbCO3'), false),
    row([...exact, '--out', 'there.msa'], ['--force'], there, true),
  ]);
});

describe('limner lines', () => {
  const names = (run: Told) => json<{ symbol: string; line: string }[]>(run).map(({ symbol, line }) => symbol + line);
  const near = ['--near', '2.35keV', '--json'];
  proves('lines', [
    row(['Pb', '--json'], ['--near', '2.35keV'], names),
    row(near, ['--within', '5eV'], names),
    row(['--near', '2.35keV', '--json'], ['--beam', '3keV'], names),
    row(['Pb'], ['--full'], ({ stdout }) => stdout.includes('are left out'), false),
    row(['Pb'], ['--json'], isJson, true),
  ]);
});

describe('limner clash', () => {
  const beam = (run: Told) => json<{ beamKev: number }>(run).beamKev;
  const excited = (run: Told) => json<{ settling: { excited: boolean }[] }>(run).settling.map((line) => line.excited);
  const sigmas = (run: Told) => json<{ questions: { sigma: number }[] }>(run).questions.map(({ sigma }) => sigma);
  const pair = ['Pb', 'S', '--json'];
  proves('clash', [
    row(pair, ['--beam', '10'], excited),
    row(pair, ['--kev', '10'], beam, 10),
    row(['Pb', 'Bi'], ['--full'], ({ stdout }) => stdout),
    row(pair, ['--resolution', '150'], sigmas),
    row(pair, ['--counts', '1000'], sigmas),
    row(pair, ['--amounts', 'S=0.1'], sigmas),
    row([], ['--all'], ({ stdout }) => stdout.includes('known from paint'), true),
    row(['--all'], ['--within', '10eV'], ({ stdout }) => stdout),
    row(['--all'], ['--out', 'chart.svg'], ({ cwd }) => existsSync(join(cwd, 'chart.svg')), true),
    row(['--all', '--out', 'chart.svg'], ['--paper', 'A3'], ({ cwd }) => readFileSync(join(cwd, 'chart.svg'), 'utf8')),
    row(['Pb', 'S'], ['--json'], isJson, true),
  ]);
});
