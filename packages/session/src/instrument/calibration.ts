import {
  contradictionText,
  type InstrumentEstimate,
  type InstrumentKnowledge,
  type InstrumentState,
  type KnownReading,
  type ReferenceFinding,
  type SettingSummary,
  type SharedInstrument,
  shareInstrument,
  taughtBy,
} from '@limner/core';
import { bySetting, spanOf, type Surveyed } from './surveyed.ts';

/** What a spectrum says about its instrument; a reference material says more. */
export interface EstimateReading extends Partial<Pick<KnownReading, 'evidence' | 'contradictions'>> {
  readonly estimate: InstrumentEstimate;
}

/** The session's instrument, pooled from what its spectra say. */
export class Calibration {
  readonly settings: readonly SettingSummary[];
  readonly #of = new Map<string, { readonly spectrum: Surveyed; readonly shared: Shared }>();

  constructor(surveyed: readonly Surveyed[], readings: ReadonlyMap<string, EstimateReading>) {
    this.settings = [...bySetting(surveyed)].map(([setting, members]) => {
      const shared = sharedBy(members, readings);
      for (const spectrum of members) this.#of.set(spectrum.name, { spectrum, shared });
      return summaryOf(setting, members, shared);
    });
  }

  /** What the other spectra of the session say about the instrument, for this one; null where too few say anything. */
  knowledgeFor(name: string): InstrumentKnowledge | null {
    const own = this.#of.get(name);
    if (!own) return null;
    const { spectrum, shared } = own;
    // A copy learns no more from its original than the original from itself.
    const position = shared.asked.findIndex((asked) => this.#of.get(asked)!.spectrum.sha256 === spectrum.sha256);
    return shared.instrument.knowledge(shared.time(spectrum), spectrum.rate, position < 0 ? undefined : position);
  }
}

interface Shared {
  readonly instrument: SharedInstrument;
  /** Names in the order of the estimates. */
  readonly asked: readonly string[];
  readonly timed: boolean;
  readonly time: (spectrum: Surveyed) => number | null;
  readonly findings: readonly ReferenceFinding[];
  readonly known: SettingSummary['known'];
}

function sharedBy(members: readonly Surveyed[], readings: ReadonlyMap<string, EstimateReading>): Shared {
  const asked = members.flatMap((spectrum) => {
    const reading = readings.get(spectrum.name);
    return reading ? [{ spectrum, reading }] : [];
  });
  const [first, last] = spanOf(members);
  const time = ({ takenAt }: Surveyed): number | null =>
    takenAt === null ? null : last > first ? (2 * (takenAt - first)) / (last - first) - 1 : 0;
  const evidence = asked.flatMap(({ reading }) => (reading.evidence ? [reading.evidence] : []));
  const { taught, contradicted } = taughtBy(evidence);
  return {
    instrument: shareInstrument(
      asked.map(({ spectrum, reading }) => ({ estimate: reading.estimate, time: time(spectrum) })),
      // A reference material learns nothing from itself.
      (own) => {
        const mine = own === undefined ? undefined : asked[own]?.reading.evidence;
        return mine ? taughtBy(evidence.filter((one) => one !== mine)).taught : taught;
      },
    ),
    asked: asked.map(({ spectrum }) => spectrum.name),
    timed: last > first && asked.every(({ spectrum }) => spectrum.takenAt !== null),
    time,
    findings: taught.findings,
    known: asked.flatMap(({ spectrum, reading }) =>
      reading.contradictions
        ? [
            {
              file: spectrum.name,
              contradictions: [
                ...reading.contradictions,
                ...(contradicted.get(spectrum.name) ?? []).map(contradictionText),
              ],
            },
          ]
        : [],
    ),
  };
}

function summaryOf(setting: string, members: readonly Surveyed[], shared: Shared): SettingSummary {
  const { instrument, asked, timed, findings, known } = shared;
  return {
    setting,
    spectra: members.length,
    asked: asked.length,
    outlying: instrument.outlying.flatMap((i) => asked[i] ?? []),
    timed,
    begins: stateOf(instrument.knowledge(-1, null)),
    ends: stateOf(instrument.knowledge(1, null)),
    scatter: instrument.scatter,
    lessons: findings,
    known,
  };
}

function stateOf(knowledge: InstrumentKnowledge | null): InstrumentState | null {
  if (!knowledge) return null;
  const { axis, pivotEv, positionSigmaEv, gainSigma, noiseEv, fano, thickWindow } = knowledge;
  return { axis, pivotEv, positionSigmaEv, gainSigma, noiseEv, fano, thickWindow };
}
