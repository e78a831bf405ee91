import { NO_CHANGES } from '@limner/core';
import { expect, it } from 'vitest';
import { addressIn, hashOf, queryOf } from './address.ts';

const ALL = {
  claim: [
    { symbol: 'Pb', massFraction: null },
    { symbol: 'S', massFraction: 0.02 },
  ],
  without: ['Ba', 'Ti'],
  mount: ['carbon-stub'],
  seen: { colour: 'blue+white' },
  beamKev: 15,
  axis: { gainEv: 10, offsetEv: -20.5 },
  dated: -400,
  materials: { file: 'own: mine.csv', sha256: 'a1'.repeat(32) },
  references: [
    { file: 'std 1.msa', sha256: 'b2'.repeat(32), label: 'SiO2 72.1; Na2O 27.9' },
    { file: 'copper.msa', sha256: 'c3'.repeat(32), label: 'Cu' },
  ],
};

it('an address keeps every change, and a name with any characters', () => {
  const id = 'folder/grain 7? #3.msa';
  const laid = [
    { id: 'folder/grain 8, "b" & c:d.msa', to: 'peak' as const, atEv: 6404 },
    { id: '', to: 'counts' as const, atEv: 0 },
  ];
  const hash = hashOf({ id, changes: ALL, laid });
  expect(hash).toContain('?claim=Pb,S:0.02&without=Ba,Ti&mount=carbon-stub&');
  expect(hash).toContain('&over=peak@6404:folder');
  expect(addressIn(hash)).toEqual({ id, changes: ALL, laid });
});

it('no change leaves the address as it was', () => {
  expect(queryOf(NO_CHANGES)).toBe('');
  expect(hashOf({ id: 'a.msa', changes: NO_CHANGES, laid: [] })).toBe('#a.msa');
  expect(addressIn('#a.msa')).toEqual({ id: 'a.msa', changes: NO_CHANGES, laid: [] });
});

it('leaves out what it cannot read', () => {
  expect(
    addressIn('#a.msa?claim=Pb:many&beam=x&offset=3&dated=&materials=a1:own.csv&known=Cu&over=b.msa&over=width:b.msa'),
  ).toEqual({
    id: 'a.msa',
    changes: { ...NO_CHANGES, claim: [{ symbol: 'Pb', massFraction: null }] },
    laid: [],
  });
  expect(addressIn('#%E0%A4%A').id).toBe('');
});
