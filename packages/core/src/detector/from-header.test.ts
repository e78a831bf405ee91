import { describe, expect, it } from 'vitest';
import type { DetectorHeader } from '../spectrum/spectrum.ts';
import { DEFAULT_DETECTOR } from './detector.ts';
import { detectorFromHeader } from './from-header.ts';
import { DETECTORS } from './presets.ts';

const NOTHING: DetectorHeader = {
  type: '',
  berylliumWindowCm: null,
  aluminiumLayerCm: null,
  goldLayerCm: null,
  deadLayerCm: null,
  activeLayerCm: null,
  windowCm: null,
};

describe('detectorFromHeader', () => {
  it('of a header that says nothing is the default, nothing of it stated', () => {
    expect(detectorFromHeader(NOTHING)).toEqual({ detector: DEFAULT_DETECTOR, stated: [], silicon: true });
  });

  it.each([
    ['SIBEW', 'drift-beryllium'],
    ['SiUTW', 'drift-polymer'],
    ['SDWLS', 'drift-open'],
  ] as const)('EDSDET %s alone names the window', (type, name) => {
    const { detector, stated } = detectorFromHeader({ ...NOTHING, type });
    expect(detector).toEqual(DETECTORS[name]);
    expect(stated).toEqual(['window']);
  });

  it('takes the stated layers, in its own units', () => {
    const { detector, stated } = detectorFromHeader({
      type: 'SIUTW',
      berylliumWindowCm: null,
      windowCm: 3e-5,
      aluminiumLayerCm: 4e-6,
      goldLayerCm: 2e-6,
      deadLayerCm: 1e-5,
      activeLayerCm: 0.3,
    });
    expect(detector).toEqual({
      ...DETECTORS['lithium-polymer'],
      windowUm: 0.3,
      aluminiumNm: 40,
      contact: 'gold',
      contactNm: 20,
      deadLayerUm: 0.1,
      thicknessMm: 3,
    });
    expect(stated).toEqual(['window', 'windowUm', 'aluminiumNm', 'contact', 'contactNm', 'deadLayerUm', 'thicknessMm']);
  });

  it('reads a beryllium window from its thickness alone, and aluminium behind it as a contact', () => {
    const { detector, stated } = detectorFromHeader({ ...NOTHING, berylliumWindowCm: 25e-4, aluminiumLayerCm: 2e-6 });
    expect(detector).toMatchObject({ window: 'beryllium', windowUm: 25, contact: 'aluminium', contactNm: 20 });
    expect(stated).toContain('contactNm');
  });

  it('leaves aside thicknesses that can only be mistakes of unit', () => {
    const wrong = { ...NOTHING, windowCm: 0.3, deadLayerCm: 0.1, activeLayerCm: 450, goldLayerCm: 20 };
    expect(detectorFromHeader(wrong)).toMatchObject({ detector: DEFAULT_DETECTOR, stated: ['window'] });
  });

  it('says where the crystal is no silicon', () => {
    expect(detectorFromHeader({ ...NOTHING, type: 'GEBEW' }).silicon).toBe(false);
    expect(detectorFromHeader({ ...NOTHING, type: 'SDBEW' }).silicon).toBe(true);
  });
});
