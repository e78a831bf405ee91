import type { ElementFinding, Measured } from '../identify/finding.ts';
import { fractionIn, type Material } from './knowledge.ts';

/**
 * Relative doubt of one standardless mass fraction, one standard deviation, where the finding does not state more:
 * ionisation, yields and absorption together. Common practice, no source: 30 to 40 % across K, L and M families.
 */
const PHYSICS_DOUBT = 0.35;

/** Share of the analysed mass at which a material must show itself when nothing measured says how much there could be. */
const NOMINAL_SHARE = 0.1;

/** Standard deviations an expected amount must keep above the detection limit before its absence counts. */
const CLEARANCE = 2;

/** An element short of being required can hardly exceed this many detection limits, unless it is the rival of another. */
const OPEN_LIMITS = 2;

/**
 * met: present; unsure: open; hidden: blind, or not reported on; faint: not seen, but so little would be expected that it
 * need not be; missing: not
 * established although it would have been.
 */
export type RequirementState = 'met' | 'unsure' | 'hidden' | 'faint' | 'missing';

/** What one spectrum says about one required element of a material. */
export interface Requirement {
  readonly symbol: string;
  readonly state: RequirementState;
  /** Mass fraction in the pure material. */
  readonly fraction: number;
  readonly measured: Measured | null;
  /** Mass fraction expected here, scaled by the other required elements; null when measured. */
  readonly expected: number | null;
  /** Mass fraction it stays below when not measured; null where nothing bounds it. */
  readonly limit: number | null;
  /** Standard deviation of ln(measured / expected): physics, counting, and the material's own spread. */
  readonly doubt: number;
  /** Something is there that may be it. */
  readonly open: boolean;
  /** It may all come from the mounting. */
  readonly fromSetting: boolean;
}

export type FindingMap = ReadonlyMap<string, ElementFinding>;

/** Judges every required element of a material, in the material's order. */
export function requirementsOf(material: Material, findings: FindingMap): Requirement[] {
  return material.required.map((symbol) => judge(material, symbol, findings));
}

/** Measured amount of an element that something was seen of, else null. */
export function measuredOf(finding: ElementFinding | undefined): Measured | null {
  if (finding === undefined || (finding.verdict !== 'present' && finding.verdict !== 'open')) return null;
  return finding.massFraction !== null && finding.massFraction.value > 0 ? finding.massFraction : null;
}

function judge(material: Material, symbol: string, findings: FindingMap): Requirement {
  const finding = findings.get(symbol);
  const fraction = fractionIn(material, symbol);
  const measured = measuredOf(finding);
  const relative = measured === null ? 0 : measured.sigma / measured.value;
  const doubt = Math.hypot(Math.max(PHYSICS_DOUBT, relative), material.spread);
  const expected = measured === null ? fraction * shareWithout(material, symbol, findings) : null;
  const limit = measured === null ? upperBound(finding) : null;
  const [open, fromSetting] = [finding?.verdict === 'open', finding?.origin === 'setting'];
  const base = { symbol, fraction, measured, expected, limit, doubt, open, fromSetting };
  const missing = expected !== null && limit !== null && expected * Math.exp(-CLEARANCE * doubt) > limit;
  switch (finding?.verdict) {
    case 'present':
      return { ...base, state: 'met' };
    case 'open':
      return { ...base, state: missing ? 'missing' : 'unsure' };
    case 'not-seen':
      return { ...base, state: missing ? 'missing' : 'faint' };
    default:
      return { ...base, state: 'hidden' };
  }
}

/** Mass fraction an unmeasured element stays below; null where nothing bounds it. */
function upperBound(finding: ElementFinding | undefined): number | null {
  const limit = finding?.limit?.massFraction ?? null;
  if (limit === null || finding?.verdict === 'blind' || finding?.verdict === 'present') return null;
  if (finding?.verdict === 'not-seen') return limit;
  return finding?.rivals.length === 0 ? OPEN_LIMITS * limit : null;
}

/** Share of the analysed mass that the other required elements leave room for. */
function shareWithout(material: Material, symbol: string, findings: FindingMap): number {
  const shares = material.required
    .filter((other) => other !== symbol)
    .map((other) => (measuredOf(findings.get(other))?.value ?? NaN) / fractionIn(material, other))
    .filter((share) => Number.isFinite(share));
  return shares.length === 0 ? NOMINAL_SHARE : Math.min(1, ...shares);
}
