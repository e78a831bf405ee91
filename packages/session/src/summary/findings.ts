import { bestFitting, DATING_FROM, findingsWith, type LimnerRecord } from '@limner/core';

/** What was found in one spectrum, in brief. */
export interface GrainFindings {
  /** Symbols required by the counts, not from the mounting alone; most counts first. */
  readonly present: readonly string[];
  readonly open: readonly string[];
  /** The best explanation, if one stands out, by what gives the colour, with its years of use. */
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
  /** Of what gives the colour. */
  readonly id: string;
  /** The whole explanation: 'Vermilion with lead white'. */
  readonly name: string;
  /** Number of other materials that may stand in its place. */
  readonly alike: number;
  readonly earliestUse: number | null;
  readonly latestUse: number | null;
}

/** What grouping by layer needs from a record. */
export function findingsIn(record: LimnerRecord): GrainFindings {
  const present = findingsWith(record, 'present').filter(({ origin }) => origin !== 'setting');
  const best = bestFitting(record);
  const latest = record.dating.find(({ year }) => year >= DATING_FROM);
  const standing = best && record.pigments.find(({ id }) => id === best.id);
  return {
    present: present.map(({ symbol }) => symbol),
    open: findingsWith(record, 'open').map(({ symbol }) => symbol),
    best: standing
      ? {
          id: standing.id,
          name: best.name,
          alike: best.alike.length,
          earliestUse: standing.earliestUse,
          latestUse: standing.latestUse,
        }
      : null,
    dating: latest ? { year: latest.year, symbol: latest.symbol, weakestLink: latest.weakestLink.text } : null,
    questions: record.statedDate?.questions.map(({ question }) => question) ?? [],
  };
}
