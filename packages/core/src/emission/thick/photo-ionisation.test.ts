import { describe, expect, it } from 'vitest';
import { massAttenuation } from '../../atomic/attenuation.ts';
import { edgeEv, fluorescenceYield } from '../../atomic/shells.ts';
import { fluorescencePerPhoton, photoIonisation } from './photo-ionisation.ts';

const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

describe('photo-ionisation', () => {
  it('ionises only what the photon reaches, and no more than it loses', () => {
    for (let z = 1; z <= 98; z++) {
      for (const energyEv of [150, 1200, 5000, 12_000, 40_000]) {
        const shares = photoIonisation(z, energyEv);
        shares.forEach((value, s) => {
          expect(value).toBeGreaterThanOrEqual(0);
          if (!(edgeEv(z, s) < energyEv)) expect(value).toBe(0);
        });
        expect(sum(shares)).toBeLessThanOrEqual(massAttenuation(z, energyEv) * (1 + 1e-12));
      }
    }
  });

  it('of K alone gives K lines of yield times ionisation, and L lines by cascade', () => {
    const photons = fluorescencePerPhoton(29, 12_000);
    expect(photons[0]).toBe(photoIonisation(29, 12_000)[0] * fluorescenceYield(29, 0));
    const direct = photoIonisation(29, 12_000)[3] * fluorescenceYield(29, 3);
    expect(photons[3]).toBeGreaterThan(3 * direct);
  });
});
