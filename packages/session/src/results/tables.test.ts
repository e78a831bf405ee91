import { expect, it } from 'vitest';
import { invented, pigment } from '../../../../tests/fixtures/record.ts';
import { elementHeading, elementRow, failureRow, PIGMENT_HEADING, pigmentRows } from './tables.ts';

it('elements.csv: the spectrum, then six columns for each element', () => {
  expect(elementHeading(['Sn', 'Zr'])).toBe(
    'file,title,sha256,beam_kev,total_counts,present,open,unexplained_peaks,warnings,' +
      'Sn_verdict,Sn_probability,Sn_counts,Sn_counts_sigma,Sn_mass_fraction,Sn_mass_fraction_sigma,' +
      'Zr_verdict,Zr_probability,Zr_counts,Zr_counts_sigma,Zr_mass_fraction,Zr_mass_fraction_sigma\n',
  );
  expect(elementRow(invented(), ['Sn', 'Zr'])).toBe(
    `grain-07.msa,Invented grain 7,${'a'.repeat(64)},20,412345,Pb Sn O,Sb,1,,` +
      'present,0.99996,41200,405.961,0.178,0.012,,,,,,\n',
  );
});

it('pigments.csv: a row per material', () => {
  expect(PIGMENT_HEADING).toBe('file,id,name,standing,score,reason\n');
  const rows = pigmentRows(invented()).split('\n');
  expect(rows[0]).toBe('grain-07.msa,lead-tin-yellow-i,"Lead-tin yellow, type I",allowed,0.9,Sn and Pb are present.');
  expect(pigmentRows(invented({ pigments: [] }))).toBe('');
});

it('text from outside never becomes a formula, and its quotes and line breaks stay in the cell', () => {
  const source = { name: '=1+1.msa', sha256: '', title: 'a "b"\nc' };
  expect(elementRow(invented({ source }), [])).toMatch(/^'=1\+1\.msa,"a ""b""\nc",/);
  for (const sign of ['=', '+', '-', '@', '\t']) {
    expect(failureRow({ file: `${sign}x`, reason: 'y' })).toMatch(/^"?'/);
  }
});

it('negative numbers stay numbers', () => {
  expect(pigmentRows(invented({ pigments: [pigment('a', 'A', { score: -0.5 })] }))).toContain(',-0.5,');
});
