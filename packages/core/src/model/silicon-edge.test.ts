import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { identify } from '../reading/identify.ts';
import { simulate } from '../simulate/simulate.ts';
import { spreadOut } from './column.ts';
import { siliconEdgeColumn } from './silicon-edge.ts';

// Si K edge 1839 eV, Sr L-alpha 1807 eV: X-Ray Data Booklet, tables 1-1 and 1-2.
describe('what the continuum gains at the silicon edge', () => {
  const instrument = { axis: { offsetEv: 0, gainEv: 10 }, detector: DEFAULT_DETECTOR };
  const background = new Float64Array(400).fill(500);

  it('is a peak there, of the counts of 1.8 eV of continuum', () => {
    const values = spreadOut(siliconEdgeColumn(background, instrument, 20, 390)!, 400);
    expect(values.reduce((sum, value) => sum + value, 0)).toBeCloseTo((500 / 10) * 1.8, 1);
    const centre = values.reduce((sum, value, i) => sum + value * i, 0) / values.reduce((sum, value) => sum + value, 0);
    expect(Math.abs(10 * centre - 1839)).toBeLessThan(2);
  });

  it('is nothing where the range ends before it, or where there is no continuum', () => {
    expect(siliconEdgeColumn(background, instrument, 20, 180)).toBeNull();
    expect(siliconEdgeColumn(new Float64Array(400), instrument, 20, 390)).toBeNull();
  });

  it('is not taken for strontium at ten million counts', () => {
    const perturb = {
      seed: 8058,
      lineRatio: 0.05,
      family: 0.1,
      tail: 0.2,
      window: 0.1,
      softShiftEv: 3,
      softWidth: 0.03,
    };
    const { elements } = identify(
      simulate({ composition: 'Ti' }, { beamKev: 10, totalCounts: 1e7, seed: 8058, perturb }),
    );
    expect(elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol)).toEqual(['Ti']);
  });
});
