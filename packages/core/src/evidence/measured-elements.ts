import type { Finding } from '../identify/finding.ts';
import type { MeasuredElement } from './reference-grain.ts';

/** What findings say that can be held against another spectrum. */
export function measuredElements(findings: readonly Finding[]): MeasuredElement[] {
  return findings
    .filter(({ verdict }) => verdict !== 'blind')
    .map(({ symbol, z, verdict, counts, massFraction, lines }) => ({
      symbol,
      z,
      present: verdict === 'present',
      counts,
      massFraction: massFraction?.value ?? null,
      line: lines[0]?.line ?? null,
    }));
}
