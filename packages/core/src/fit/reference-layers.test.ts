import { describe, expect, it } from 'vitest';
import { LINE_TABLE } from '../atomic/lines.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { efficiencyTable } from '../model/efficiency-table.ts';
import { layerResponse, layersTold, type AmountEvidence, type KnownAmounts } from './reference-layers.ts';

const layers = { window: DEFAULT_DETECTOR.window, windowUm: 0.3, iceUm: 0.2 } as const;
const amount = (more: Partial<AmountEvidence>): AmountEvidence => ({
  ...{ z: 26, logRatio: 0, sigma: 0.02, byIce: 0, byWindow: 0 },
  ...more,
});
const known = (by: string, amounts: readonly AmountEvidence[], of: KnownAmounts['layers'] = layers): KnownAmounts => ({
  ...{ by, amounts },
  layers: of,
});
/** Amounts as they are found behind so much more ice than was thought, in units of 0.1 um. */
const behindIce = (ice: number, sigma: number): AmountEvidence[] =>
  [0, -0.1, -0.4, -0.8].map((byIce, k) => amount({ z: 6 + k, byIce, logRatio: ice * byIce, sigma }));

describe('layers that reference materials tell', () => {
  it('are none of nothing, and none of a single amount', () => {
    expect(layersTold([]).told).toBeNull();
    expect(layersTold([known('iron', [amount({})])]).told).toBeNull();
  });

  it('are the ice that makes soft lines faint, with its doubt', () => {
    const { told, contradicted } = layersTold([known('a', behindIce(2, 0.02)), known('b', behindIce(2, 0.02))]);
    const { ice, window, by } = told!;
    // Least squares with a prior of 3 units: information is the sum of w (x - mean of x) squared, and 1/9.
    const spread = [0, -0.1, -0.4, -0.8].reduce((sum, x) => sum + (x + 0.325) ** 2, 0);
    const information = (2 * spread) / 0.02 ** 2;
    expect(ice.before).toEqual({ mean: 0.2, sigma: 0.1 * 3 });
    expect(ice.after.mean).toBeCloseTo(0.2 + (0.1 * 2 * information) / (information + 1 / 9), 9);
    expect(ice.after.sigma).toBeCloseTo(0.1 / Math.sqrt(information + 1 / 9), 9);
    // Of the window these say nothing.
    expect(window.before).toEqual({ mean: 0.3, sigma: 0.25 * 0.3 });
    expect(window.after.mean).toBe(0.3);
    expect(window.after.sigma).toBeCloseTo(0.25 * 0.3, 12);
    expect([by, contradicted.size]).toEqual([['a', 'b'], 0]);
  });

  it('are the window as well, each material by a scale of its own', () => {
    const some = behindIce(0, 0.02).map(({ byIce, ...one }, k) => {
      const byWindow = [-0.5, 0.1, -0.2, 0][k];
      return { ...one, byIce, byWindow, logRatio: 1.5 * byIce + 0.5 * byWindow };
    });
    const scaled = (by: number): AmountEvidence[] => some.map((one) => ({ ...one, logRatio: one.logRatio + by }));
    const { ice, window } = layersTold([known('a', scaled(0)), known('b', scaled(3))]).told!;
    expect(Math.abs(ice.after.mean - (0.2 + 0.1 * 1.5))).toBeLessThan(0.002);
    expect(Math.abs(window.after.mean - 0.3 * (1 + 0.25 * 0.5))).toBeLessThan(0.002);
    // Of a beryllium window next to nothing is known before.
    const thick = layersTold([known('a', scaled(0), { window: 'beryllium', windowUm: 8, iceUm: 0 })]).told!;
    expect(thick.window.before).toEqual({ mean: 8, sigma: 6 * 0.25 * 8 });
  });

  it('are never less than none', () => {
    expect(layersTold([known('a', behindIce(-4, 0.02))]).told!.ice.after.mean).toBe(0);
  });
});

describe('a label that no layers reconcile with the counts', () => {
  const others = Array.from({ length: 40 }, () => amount({}));
  /** One amount so many times what the label says, against the mean of all 41. */
  const off = (times: number, sigma: number): KnownAmounts =>
    known('glass', [
      ...others.map((one) => ({ ...one, sigma })),
      amount({ z: 29, logRatio: (Math.log(times) * 41) / 40, sigma }),
    ]);

  it.each([
    ['a factor of 2', 0.02, 2],
    ['three standard deviations', 0.4, Math.exp(1.2)],
  ])('contradicts it from %s on', (_, sigma, limit) => {
    expect(layersTold([off(0.99 * limit, sigma)]).contradicted.size).toBe(0);
    const [told, ...more] = [off(1.01 * limit, sigma), known('steel', behindIce(1, 0.02))];
    const { told: layers, contradicted } = layersTold([told, ...more]);
    expect(layers!.by).toEqual(['steel']);
    expect([...contradicted.keys()]).toEqual(['glass']);
    const [{ z, times }, ...rest] = contradicted.get('glass')!;
    expect(rest).toEqual([]);
    expect(z).toBe(29);
    expect(times).toBeCloseTo(1.01 * limit, 6);
  });

  it('leaves nothing to tell where it is the only one, and is contradicted all the same', () => {
    const { told, contradicted } = layersTold([off(9, 0.02)]);
    expect(told).toBeNull();
    expect(contradicted.get('glass')).toMatchObject([{ kind: 'amount', z: 29 }]);
  });
});

describe('what a layer takes', () => {
  /** Elements seen by their K lines alone. */
  const areas = Float64Array.from(LINE_TABLE.subshell, (shell) => (shell === 0 ? 1 : 0));
  const response = (z: number) => layerResponse(z, areas, DEFAULT_DETECTOR);

  it('is the logarithm of what it lets through, of a line that is the only one', () => {
    const line = LINE_TABLE.first[8];
    const one = Float64Array.from(areas, (_, i) => (i === line ? 3 : 0));
    const through = (more: Partial<typeof DEFAULT_DETECTOR>): number =>
      efficiencyTable({ ...DEFAULT_DETECTOR, ...more }).lines[line];
    const { byIce, byWindow } = layerResponse(8, one, DEFAULT_DETECTOR);
    const { iceUm, windowUm } = DEFAULT_DETECTOR;
    expect(byIce).toBeCloseTo(Math.log(through({ iceUm: iceUm + 0.1 }) / through({})), 9);
    expect(byWindow).toBeCloseTo(Math.log(through({ windowUm: 1.25 * windowUm }) / through({})), 9);
  });

  it('is most of fluorine, little of silicon, next to nothing of iron', () => {
    const [fluorine, silicon, iron] = [9, 14, 26].map((z) => response(z).byIce);
    expect(fluorine).toBeLessThan(3 * silicon);
    expect(silicon).toBeLessThan(3 * iron);
    expect(iron).toBeLessThan(0);
    expect(iron).toBeGreaterThan(-1e-3);
  });

  it('is nothing of an element without lines, and of one of which nothing passes', () => {
    const none = { byIce: 0, byWindow: 0 };
    expect(layerResponse(26, new Float64Array(LINE_TABLE.count), DEFAULT_DETECTOR)).toEqual(none);
    const lead = { ...DEFAULT_DETECTOR, window: 'beryllium' as const, windowUm: 1e5 };
    expect(layerResponse(6, areas, lead)).toEqual(none);
  });
});
