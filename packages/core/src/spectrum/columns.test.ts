import { describe, expect, it } from 'vitest';
import { AXIS, codeOf } from '../../../../tests/emsa-reading.ts';
import { COUNTS, ENERGIES_KEV, utf8 } from '../../../../tests/emsa-text.ts';
import { readSpectrum, type ReadOptions } from './read.ts';
import type { Spectrum } from './spectrum.ts';

const table = (separator: string, unit = 1): string =>
  COUNTS.map((count, i) => `${Number((ENERGIES_KEV[i] * unit).toFixed(2))}${separator}${count}`).join('\n');
const read = (text: string, options: ReadOptions = {}): Spectrum => readSpectrum(utf8(text), options);
const told = (spectrum: Spectrum) => spectrum.warnings.find((warning) => warning.code === 'columns-read');
function expectUsual(spectrum: Spectrum): void {
  expect([...spectrum.counts]).toEqual(COUNTS);
  expect(Math.abs(spectrum.axis.offsetEv - AXIS.offsetEv)).toBeLessThan(1e-6);
  expect(Math.abs(spectrum.axis.gainEv - AXIS.gainEv)).toBeLessThan(1e-8);
  expect(spectrum.beamKev).toBeNull();
}

describe('columns of energy and counts', () => {
  it.each([',', ', ', ';', '\t', ' ', '   '])('parted by "%s"', (separator) => {
    expectUsual(read(table(separator)));
    expectUsual(read(`${table(separator)}\n`));
  });

  it('with a byte-order mark, CRLF, comments, quotes and trailing separators', () => {
    expectUsual(read(`\uFEFF# invented\r\n"Energy (keV)","Counts"\r\n${table(',\t').replaceAll('\n', ',\r\n')}`));
  });

  it('with a heading of several lines, some of them like keywords', () => {
    const heading = '# Title: combined grains\n# Date: 1 May\nEnergy (eV),Counts\n---';
    expectUsual(read(`${heading}\n${table(',', 1000)}`));
    expect(told(read(`${heading}\n${table(',', 1000)}`))?.energies.from).toBe('heading');
  });

  it('in keV or eV, told by the heading or by size, and says which', () => {
    expect(told(read(table(',')))?.energies).toEqual({ from: 'size', unit: 'keV' });
    expect(told(read(table(',', 1000)))?.energies).toEqual({ from: 'size', unit: 'eV' });
    expect(told(read(`energy_kev,counts\n${table(',')}`))?.energies).toEqual({ from: 'heading', unit: 'keV' });
    expect(told(read(`Energy [eV];Counts\n${table(';', 1000)}`))?.energies).toEqual({ from: 'heading', unit: 'eV' });
    expectUsual(read(table(',', 1000)));
    expect(codeOf(() => read(`Energy [eV];Counts\n${table(';')}`))).toBe('axis-absurd');
  });

  it('with decimal commas where semicolons or tabs part the columns', () => {
    expectUsual(read(table(';').replaceAll('.', ',')));
    expectUsual(read(table('\t').replaceAll('.', ',')));
    expect(codeOf(() => read(table(',').replaceAll('.', ',')))).toBe('row-width');
  });

  it('with further columns, which are named as not read', () => {
    const text = table(',').replaceAll('\n', ',0.5\n').concat(',0.5');
    expectUsual(read(text));
    expect(told(read(text))?.unreadColumns).toBe(1);
  });

  it('with energies rounded so that several channels share one', () => {
    const rows = Array.from({ length: 400 }, (_, i) => `${(0.02 * i).toFixed(1)}\t${i % 7}`).join('\n');
    const { axis } = read(`energy keV\tcounts\n${rows}`);
    expect(Math.abs(axis.gainEv - 20)).toBeLessThan(0.02);
    expect(Math.abs(axis.offsetEv)).toBeLessThan(10);
  });

  it('with channel numbers or counts alone: only with a given axis', () => {
    const byChannel = COUNTS.map((count, i) => `${i},${count}`).join('\n');
    const alone = COUNTS.join('\n');
    for (const text of [byChannel, `channel,counts\n${byChannel}`, alone]) {
      expect(codeOf(() => read(text))).toBe('axis-in-channels');
      expectUsual(read(text, { axis: AXIS }));
    }
  });

  it.each([
    ['energies that fall', COUNTS.map((count, i) => `${20 - i},${count}`).join('\n'), 'axis-not-linear'],
    ['energies unevenly spaced', COUNTS.map((count, i) => `${0.01 * i * i},${count}`).join('\n'), 'axis-not-linear'],
    ['a row of another width', `${table(',')}\n5`, 'row-width'],
    ['words among the numbers', `${table(',')}\nsum,77`, 'data-unreadable'],
    ['an empty field', table(',').replace(',12\n', ',,12\n'), 'empty-field'],
    ['a negative count', table(',').replace(',12\n', ',-12\n'), 'counts-negative'],
    ['few rows', table(',').split('\n').slice(0, 10).join('\n'), 'too-few-channels'],
  ])('%s: an error', (_, text, code) => {
    expect(codeOf(() => read(text))).toBe(code);
  });
});
