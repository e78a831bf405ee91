import { elementName, type ElementFinding, type LimnerRecord } from '@limner/core';
import { capital, listed } from './format.ts';

/** The reading in two or three sentences: what the counts require, what stays open, what nothing explains. */
export function summary(record: LimnerRecord): string {
  const present = byCounts(record, 'present');
  const specimen = present.filter((finding) => finding.origin !== 'setting');
  const setting = present.filter((finding) => finding.origin === 'setting');
  const open = byCounts(record, 'open');
  const unexplained = record.peaks.filter((peak) => peak.explainedBy.length === 0).length;
  return [
    required(specimen),
    setting.length ? `${capital(named(setting))} can come from the mounting.` : '',
    open.length ? `Open: ${named(open)}.` : specimen.length ? 'Nothing is left open.' : '',
    unexplained ? `${unexplained === 1 ? 'One peak is' : `${unexplained} peaks are`} not explained.` : '',
  ]
    .filter(Boolean)
    .join(' ');
}

function required(findings: readonly ElementFinding[]): string {
  if (findings.length === 0) return 'The counts require no element of the specimen.';
  return `${capital(named(findings))} ${findings.length === 1 ? 'is' : 'are'} required by the counts.`;
}

const named = (findings: readonly ElementFinding[]): string => listed(findings.map(({ z }) => elementName(z)));

/** The findings with one verdict, the strongest first. */
export function byCounts(record: LimnerRecord, verdict: ElementFinding['verdict']): ElementFinding[] {
  return record.elements
    .filter((finding) => finding.verdict === verdict)
    .sort((a, b) => b.counts.value - a.counts.value || a.z - b.z);
}
