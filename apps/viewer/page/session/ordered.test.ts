import type { OverviewSpectrum } from '@limner/session';
import { describe, expect, it } from 'vitest';
import { ALL, type Choice } from './choice.ts';
import { OrderedSpectra } from './ordered.ts';

type Place = OverviewSpectrum['place'];
type Amounts = Readonly<Record<string, number | 'open'>>;

const at = (sample: string, layer: number | null, particle: string): Place => ({
  sample,
  layer,
  particle,
});

const spectrum = (file: string, place: Place, amounts: Amounts, best: string | null, kind: number | null) =>
  ({
    file,
    title: `Title of ${file}`,
    summary: '',
    place,
    kind,
    best: best === null ? null : { name: best },
    elements: Object.entries(amounts).map(([symbol, amount]) => ({
      symbol,
      verdict: amount === 'open' ? 'open' : 'present',
      massFraction: amount === 'open' ? null : { value: amount, sigma: 0 },
    })),
    warnings: [],
    copyOf: null,
  }) as unknown as OverviewSpectrum;

const SESSION = new OrderedSpectra([
  spectrum('f10.msa', at('P10', 1, 'g1'), { Pb: 0.2 }, 'lead white', 1),
  spectrum('f2.msa', at('P2', 2, 'g10'), { Pb: 0.6, Ca: 'open' }, 'Lead white', 1),
  spectrum('f1.msa', at('P2', 2, 'g2'), { Ca: 0.3 }, 'chalk', null),
  spectrum('f3.msa', at('P2', null, 'blank'), {}, null, null),
  spectrum('f4.msa', at('P2', 1, 'g1'), { Ca: 0.1, Cu: 'open' }, 'azurite', 2),
  spectrum('loose.msa', null, { Pb: 'open' }, null, null),
]);
const filesOf = (part: Partial<Choice>): string[] => SESSION.chosen({ ...ALL, ...part }).map(({ file }) => file);
const sorted = (by: string, descending = false): string[] => filesOf({ sort: { by, descending } });

describe('the spectra of a session', () => {
  it('stand by sample, from the ground up, those beside the layers last, then by particle, numbers as numbers', () => {
    expect(sorted('place')).toEqual(['f4.msa', 'f1.msa', 'f2.msa', 'f3.msa', 'f10.msa', 'loose.msa']);
    expect(sorted('place', true)).toEqual(sorted('place').toReversed());
  });

  it('are ordered by file, by what fits best, and by an element: required over open, more over less', () => {
    expect(sorted('file')).toEqual(['f1.msa', 'f2.msa', 'f3.msa', 'f4.msa', 'f10.msa', 'loose.msa']);
    expect(sorted('best').slice(0, 2)).toEqual(['f4.msa', 'f1.msa']);
    expect(sorted('best').slice(4)).toEqual(['f3.msa', 'loose.msa']);
    expect(sorted('Pb', true).slice(0, 3)).toEqual(['f2.msa', 'f10.msa', 'loose.msa']);
    expect(sorted('Ca', true).slice(0, 3)).toEqual(['f1.msa', 'f4.msa', 'f2.msa']);
  });

  it('that are alike stay in order of place, both ways', () => {
    const alike = ['f4.msa', 'f1.msa', 'f3.msa'];
    expect(sorted('Pb').filter((file) => alike.includes(file))).toEqual(alike);
    expect(sorted('Pb', true).filter((file) => alike.includes(file))).toEqual(alike);
  });

  it('are found by text, place, element and kind, all at once', () => {
    expect(filesOf({ text: ' LEAD white' })).toEqual(['f2.msa', 'f10.msa']);
    expect(filesOf({ text: 'title of f1' })).toEqual(['f1.msa', 'f10.msa']);
    expect(filesOf({ sample: 'P2', layer: 'beside' })).toEqual(['f3.msa']);
    expect(filesOf({ element: 'Ca', kind: 'none' })).toEqual(['f1.msa']);
    expect(filesOf({ element: 'Zn' })).toEqual([]);
  });

  it('names the elements of most spectra first', () => expect(SESSION.symbols).toEqual(['Ca', 'Pb', 'Cu']));
});
