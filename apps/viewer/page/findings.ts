import type { ElementFinding, LimnerRecord } from '@limner/core';

/** The findings with one verdict, the strongest first. */
export function findingsWith({ elements }: LimnerRecord, verdict: ElementFinding['verdict']): ElementFinding[] {
  return elements
    .filter((finding) => finding.verdict === verdict)
    .sort((a, b) => b.counts.value - a.counts.value || a.z - b.z);
}
