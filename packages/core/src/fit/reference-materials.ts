import { symbolOf } from '../atomic/elements.ts';
import type { Believed, RatioBelief, ReferenceFinding, Taught } from '../model/instrument-knowledge.ts';
import { type AmountContradiction, layersTold, type KnownAmounts, type LayersTold } from './reference-layers.ts';

/** What one reference material says beyond axis and resolution. */
export interface KnownEvidence extends KnownAmounts {
  /** Ratios as its counts have them, priors taken out. */
  readonly ratios: readonly RatioBelief[];
}

/** Ratios of lines differ between materials by as much (bonding, absorption); relative. */
const RATIO_SCATTER = 0.05;
/** A line cannot be missing altogether; relative. */
const LEAST_RATIO = -0.95;
/** A finding must narrow a belief to this part of its uncertainty, or move it by half of that, to be worth telling. */
const WORTH_TELLING = 0.8;
/** What was taught, and the reference materials whose amounts contradict their label: these teach nothing. */
export interface Teaching {
  readonly taught: Taught;
  readonly contradicted: ReadonlyMap<string, readonly AmountContradiction[]>;
}

/** What reference materials teach about an instrument: line ratios of their elements, and layers in front of the crystal. */
export function taughtBy(evidence: readonly KnownEvidence[]): Teaching {
  const { told, contradicted } = layersTold(evidence);
  const layers = told ? layerFindings(told) : { layers: {}, findings: [] };
  const { ratios, findings } = ratioFindings(evidence.filter(({ by }) => !contradicted.has(by)));
  return { taught: { ratios, layers: layers.layers, findings: [...layers.findings, ...findings] }, contradicted };
}

function layerFindings({ ice, window, by }: LayersTold): { layers: Taught['layers']; findings: ReferenceFinding[] } {
  const worth = { iceUm: isWorthTelling(ice.before, ice.after), windowUm: isWorthTelling(window.before, window.after) };
  return {
    layers: {
      ...(worth.iceUm && { iceUm: ice.after.mean }),
      ...(worth.windowUm && { windowUm: window.after.mean }),
    },
    findings: [
      ...(worth.iceUm ? [{ z: null, quantity: 'ice on the detector, um', by, ...ice }] : []),
      ...(worth.windowUm ? [{ z: null, quantity: 'window of the detector, um', by, ...window }] : []),
    ],
  };
}

function ratioFindings(evidence: readonly KnownEvidence[]): { ratios: RatioBelief[]; findings: ReferenceFinding[] } {
  const told = new Map<string, { by: string; ratio: RatioBelief }[]>();
  for (const { by, ratios } of evidence) {
    for (const ratio of ratios) {
      const key = `${ratio.z} ${ratio.kind} ${ratio.label}`;
      told.set(key, [...(told.get(key) ?? []), { by, ratio }]);
    }
  }
  const ratios: RatioBelief[] = [];
  const findings: ReferenceFinding[] = [];
  for (const all of told.values()) {
    const [{ ratio: first }] = all as [(typeof all)[number]];
    const before = { mean: 0, sigma: first.usualSigma };
    let weight = 1 / before.sigma ** 2;
    let sum = 0;
    for (const { ratio } of all) {
      const own = 1 / (ratio.sigma ** 2 + RATIO_SCATTER ** 2);
      weight += own;
      sum += own * ratio.mean;
    }
    const after = { mean: Math.max(LEAST_RATIO, sum / weight), sigma: Math.max(RATIO_SCATTER, 1 / Math.sqrt(weight)) };
    if (!isWorthTelling(before, after)) continue;
    ratios.push({ ...first, ...after });
    const what = `${first.label} against its leading ${first.kind === 'group-ratio' ? 'line' : 'family'}`;
    findings.push({
      z: first.z,
      quantity: `${symbolOf(first.z)} ${what}, relative`,
      by: all.map(({ by }) => by),
      before,
      after,
    });
  }
  return { ratios, findings };
}

function isWorthTelling(before: Believed, after: Believed): boolean {
  const moved = Math.abs(after.mean - before.mean) > 0.5 * before.sigma;
  return after.sigma < before.sigma && (moved || after.sigma < WORTH_TELLING * before.sigma);
}
