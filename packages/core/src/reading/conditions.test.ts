import { expect, it } from 'vitest';
import { oddSpectrum } from '../../../../tests/robustness/odd-spectrum.ts';
import { readSpectrum } from '../spectrum/read.ts';
import { conditionsOf } from './conditions.ts';

it('a flat floor whose counts end where no beam can be has the usual beam energy', () => {
  // Found by reading odd spectra: its end was told as a beam of 0 keV, and the reading failed.
  const flat = readSpectrum(new TextEncoder().encode(oddSpectrum(2069).text), { name: 'odd-2069' });
  expect(flat.beamKev).toBeNull();
  expect(conditionsOf(flat, {}).beamKev).toEqual({ value: 20, origin: 'default' });
});
