import { bestFitting, DATING_FROM, findingsWith, type LimnerRecord } from '@limner/core';

/** What was found in one spectrum, in brief. */
export interface GrainFindings {
  /** Symbols required by the counts, not from the mounting alone; most counts first. */
  readonly present: readonly string[];
  readonly open: readonly string[];
  /** The material that fits best, if one stands out, with its years of use. */
  readonly best: Material | null;
  /** Its argument for the latest date, if it has one. */
  readonly dating: GrainDating | null;
  /** Questions about what does not fit the stated date. */
  readonly questions: readonly string[];
}

/** Why a grain is not older than a year. */
export interface GrainDating {
  readonly year: number;
  readonly symbol: string;
  readonly weakestLink: string;
}

export interface Material {
  readonly id: string;
  readonly name: string;
  /** Number of other materials that the same elements allow. */
  readonly alike: number;
  readonly earliestUse: number | null;
  readonly latestUse: number | null;
}

/** What grouping by layer needs from a record. */
export function findingsIn(record: LimnerRecord): GrainFindings {
  const present = findingsWith(record, 'present').filter(({ origin }) => origin !== 'setting');
  const best = bestFitting(record);
  const latest = record.dating.find(({ year }) => year >= DATING_FROM);
  const standing = best && record.pigments.find(({ name }) => name === best.name);
  return {
    present: present.map(({ symbol }) => symbol),
    open: findingsWith(record, 'open').map(({ symbol }) => symbol),
    best: standing
      ? {
          id: standing.id,
          name: standing.name,
          alike: best.alike.length,
          earliestUse: standing.earliestUse,
          latestUse: standing.latestUse,
        }
      : null,
    dating: latest ? { year: latest.year, symbol: latest.symbol, weakestLink: latest.weakestLink.text } : null,
    questions: record.statedDate?.questions.map(({ question }) => question) ?? [],
  };
}
