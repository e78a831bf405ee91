import { symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { emsaFile } from '../../../../tests/fixtures/emsa.ts';
import { folderWith } from '../../../../tests/fixtures/folder.ts';
import { findSpectra } from './find.ts';

const spectrum = emsaFile([], Array<number>(32).fill(7));
const columns = (separator: string): string =>
  ['energy counts', ...Array.from({ length: 64 }, (_, i) => `${i * 0.01}${separator}${i}`), ''].join('\n');

it('finds spectra by their content, in order of path, wherever they lie', async () => {
  const folder = folderWith({
    'b.msa': spectrum,
    'B.EMSA': spectrum,
    'a/site 4 (1).txt': spectrum,
    'a/deep/er/x': spectrum,
    'export.csv': columns(','),
    'export.tsv': columns('\t'),
    'empty.msa': '',
  });
  const { spectra, others } = await findSpectra(folder);
  expect(spectra).toEqual([
    'B.EMSA',
    'a/deep/er/x',
    'a/site 4 (1).txt',
    'b.msa',
    'empty.msa',
    'export.csv',
    'export.tsv',
  ]);
  expect(others).toEqual([]);
});

it('leaves aside what is none: notes, sheets, pictures, programs', async () => {
  const files = {
    'notes.txt': 'Three grains from the blue.\n1 2 3\n',
    'samples.csv': ['sample,layer,note', ...Array.from({ length: 30 }, (_, i) => `S${i},${i},blue`), ''].join('\n'),
    'picture.png': Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0, 1, 2]),
    'table.md': columns(' '),
  };
  const { spectra, others } = await findSpectra(folderWith(files));
  expect({ spectra, others }).toEqual({ spectra: [], others: Object.keys(files).sort() });
});

it('passes over hidden files and the folder for the results, and names links that lead round', async () => {
  const folder = folderWith({ '.hidden.msa': spectrum, '.git/x.msa': spectrum, 'out/elements.csv': columns(',') });
  symlinkSync('..', join(folder, 'out', 'up'));
  symlinkSync('.', join(folder, 'round'));
  const { spectra, others, unread } = await findSpectra(folder, join(folder, 'out'));
  expect({ spectra, others }).toEqual({ spectra: [], others: [] });
  expect(unread).toEqual([{ file: 'round', reason: expect.stringMatching(/^it is a link back/) as string }]);
});

it('follows a link to a file', async () => {
  const folder = folderWith({ 'x.msa': spectrum });
  symlinkSync('x.msa', join(folder, 'y.msa'));
  expect((await findSpectra(folder)).spectra).toEqual(['x.msa', 'y.msa']);
});
