import { expect, it } from 'vitest';
import { invented, pigment } from '../../../../tests/fixtures/record.ts';
import { ELEMENT_HEADING, elementRows, failureRow, PIGMENT_HEADING, pigmentRows } from './tables.ts';

it('elements.csv: a row per element and spectrum, with the place of the grain', () => {
  expect(ELEMENT_HEADING).toBe(
    'file,sample,layer,particle,element,verdict,probability,counts,counts_sigma,limit_counts,mass_fraction,mass_fraction_sigma,' +
      'limit_mass_fraction,origin,under,rivals\n',
  );
  const rows = elementRows(invented(), { sample: 'P1', layer: 2, particle: 'g1' }).trimEnd().split('\n');
  expect(rows).toHaveLength(invented().elements.length);
  expect(rows.find((row) => row.includes(',Sn,'))).toBe(
    'grain-07.msa,P1,2,g1,Sn,present,0.99996,41200,405.961,130,0.178,0.012,0.0024,specimen,,Ca+Sb',
  );
  expect(rows.find((row) => row.includes(',Hg,'))).toBe('grain-07.msa,P1,2,g1,Hg,blind,0,0,2,,,,,specimen,,');
  expect(elementRows(invented(), null)).toMatch(/^grain-07\.msa,,,,O,present,/);
});

it('pigments.csv: a row per material, those that are ruled out only when asked for', () => {
  expect(PIGMENT_HEADING).toBe('file,id,name,standing,score,reason\n');
  const rows = pigmentRows(invented(), true).trimEnd().split('\n');
  expect(rows[0]).toBe('grain-07.msa,lead-tin-yellow-i,"Lead-tin yellow, type I",allowed,0.9,Sn and Pb are present.');
  expect(rows).toHaveLength(3);
  expect(pigmentRows(invented(), false)).not.toContain('ruled-out');
  expect(pigmentRows(invented({ pigments: [] }), true)).toBe('');
});

it('text from outside never becomes a formula, and its quotes and line breaks stay in the cell', () => {
  const source = { name: '=1+1.msa', sha256: '', title: '' };
  const place = { sample: 'a "b"\nc', layer: null, particle: '' };
  expect(elementRows(invented({ source }), place)).toMatch(/^'=1\+1\.msa,"a ""b""\nc",/);
  for (const sign of ['=', '+', '-', '@', '\t']) {
    expect(failureRow({ file: `${sign}x`, reason: 'y' })).toMatch(/^"?'/);
  }
});

it('negative numbers stay numbers', () => {
  expect(pigmentRows(invented({ pigments: [pigment('a', 'A', { score: -0.5 })] }), true)).toContain(',-0.5,');
});
