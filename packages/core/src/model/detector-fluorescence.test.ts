import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { siliconFluorescence } from '../detector/silicon-fluorescence.ts';
import { spreadOut } from './column.ts';
import { detectorSiliconColumn } from './detector-fluorescence.ts';
import { efficiencyTable } from './efficiency-table.ts';

const instrument = { axis: { offsetEv: 0, gainEv: 10 }, detector: DEFAULT_DETECTOR };
const total = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

describe("the detector's own silicon peak", () => {
  it('is what the photons behind the counts bring about', () => {
    const counts = new Float64Array(1024);
    counts[231] = 1e6;
    const values = spreadOut(detectorSiliconColumn(counts, 15, 1024, instrument), counts.length);
    const photons = 1e6 / efficiencyTable(DEFAULT_DETECTOR).at(2310);
    const wanted = photons * siliconFluorescence(DEFAULT_DETECTOR, 2310);
    expect(Math.abs(total(values) / wanted - 1)).toBeLessThan(0.02);
    // Common practice, from memory: an apparent 0.05 to 0.2 %, so some hundred counts in a million just above the edge.
    expect(total(values)).toBeGreaterThan(50);
    expect(total(values)).toBeLessThan(3000);
    const top = values.indexOf(Math.max(...values));
    expect(Math.abs(top * 10 - 1740)).toBeLessThanOrEqual(10);
  });

  it('has nothing from photons below the silicon edge', () => {
    const counts = new Float64Array(1024);
    counts[150] = 1e6;
    expect(detectorSiliconColumn(counts, 15, 1024, instrument).runs).toHaveLength(0);
  });
});
