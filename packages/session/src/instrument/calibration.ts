import {
  FEWEST_TO_SHARE,
  type InstrumentKnowledge,
  type Lesson,
  contradictionText,
  lessonsOf,
  type SharedInstrument,
  shareInstrument,
} from '@limner/core';
import type { EstimateReading } from './estimate-one.ts';
import type { Surveyed } from './survey.ts';

/** Spectra asked per setting of the instrument: more narrow its axis by less than what averaging cannot remove. */
const MOST_ASKED = 36;
/** Stretches of the session that each send some, so that a drift shows. */
const STRETCHES = 12;

/** The instrument of a session, one part per setting; plain data for the manifest and the report. */
export interface SettingSummary {
  readonly setting: string;
  /** Spectra taken with it, and how many of them were asked about the instrument. */
  readonly spectra: number;
  readonly asked: number;
  /** Spectra that contradict the others, and were left out. */
  readonly outlying: readonly string[];
  /** True: times are known, and a drift was allowed for. */
  readonly timed: boolean;
  /** At the first and the last spectrum; null: too few told. */
  readonly begins: InstrumentState | null;
  readonly ends: InstrumentState | null;
  /** Scatter between spectra: offset eV, gain (relative), noise eV, Fano factor (relative). */
  readonly scatter: readonly number[];
  readonly lessons: readonly Lesson[];
  readonly known: readonly { readonly file: string; readonly contradictions: readonly string[] }[];
}

export type InstrumentState = Pick<
  InstrumentKnowledge,
  'axis' | 'pivotEv' | 'positionSigmaEv' | 'gainSigma' | 'noiseEv' | 'fano' | 'thickWindow'
>;

/** Spectra worth asking: known materials, and those of most counts in each stretch of time. */
export function worthAsking(surveyed: readonly Surveyed[], isKnown: (name: string) => boolean): Surveyed[] {
  return [...bySetting(surveyed).values()].flatMap((members) => {
    const known = members.filter(({ name }) => isKnown(name));
    // Each is to be read with what at least so many others say: fewer need not be asked.
    if (members.length <= FEWEST_TO_SHARE) return known;
    const rest = members.filter(({ name }) => !isKnown(name)).sort(byCounts);
    const [first, last] = spanOf(members);
    const stretch = ({ takenAt }: Surveyed): number =>
      takenAt === null || last === first ? 0 : Math.floor((STRETCHES * (takenAt - first)) / (last - first + 1e-9));
    const perStretch = Math.ceil(MOST_ASKED / new Set(rest.map(stretch)).size);
    const taken = new Map<number, number>();
    const spread = rest.filter((spectrum) => {
      const at = stretch(spectrum);
      taken.set(at, (taken.get(at) ?? 0) + 1);
      return taken.get(at)! <= perStretch;
    });
    return [...known, ...spread.slice(0, MOST_ASKED)];
  });
}

/** The session's instrument from what its spectra say. */
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

  /** What the other spectra of the session tell of the instrument, for this one; null where too few do. */
  knowledgeFor(name: string): InstrumentKnowledge | null {
    const own = this.#of.get(name);
    if (!own) return null;
    const { spectrum, shared } = own;
    const position = shared.asked.indexOf(name);
    return shared.instrument.knowledge(shared.time(spectrum), spectrum.rate, position < 0 ? undefined : position);
  }
}

interface Shared {
  readonly instrument: SharedInstrument;
  /** Names in the order of the estimates. */
  readonly asked: readonly string[];
  readonly timed: boolean;
  readonly time: (spectrum: Surveyed) => number | null;
  readonly lessons: readonly Lesson[];
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
  const { taught, contradicted } = lessonsOf(evidence);
  return {
    instrument: shareInstrument(
      asked.map(({ spectrum, reading }) => ({ estimate: reading.estimate, time: time(spectrum) })),
      // A known material learns nothing from itself.
      (own) => {
        const mine = own === undefined ? undefined : asked[own]?.reading.evidence;
        return mine ? lessonsOf(evidence.filter((one) => one !== mine)).taught : taught;
      },
    ),
    asked: asked.map(({ spectrum }) => spectrum.name),
    timed: last > first && asked.every(({ spectrum }) => spectrum.takenAt !== null),
    time,
    lessons: taught.lessons,
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
  const { instrument, asked, timed, lessons, known } = shared;
  return {
    setting,
    spectra: members.length,
    asked: asked.length,
    outlying: instrument.outlying.flatMap((i) => asked[i] ?? []),
    timed,
    begins: stateOf(instrument.knowledge(-1, null)),
    ends: stateOf(instrument.knowledge(1, null)),
    scatter: instrument.scatter,
    lessons,
    known,
  };
}

function stateOf(knowledge: InstrumentKnowledge | null): InstrumentState | null {
  if (!knowledge) return null;
  const { axis, pivotEv, positionSigmaEv, gainSigma, noiseEv, fano, thickWindow } = knowledge;
  return { axis, pivotEv, positionSigmaEv, gainSigma, noiseEv, fano, thickWindow };
}

/** Spectra by setting, settings and spectra in order of their text: the order of the files never matters. */
function bySetting(surveyed: readonly Surveyed[]): Map<string, Surveyed[]> {
  const groups = new Map<string, Surveyed[]>();
  for (const spectrum of [...surveyed].sort((a, b) => byText(a.name, b.name))) {
    const group = groups.get(spectrum.setting);
    if (group) group.push(spectrum);
    else groups.set(spectrum.setting, [spectrum]);
  }
  return new Map([...groups].sort(([a], [b]) => byText(a, b)));
}

function spanOf(members: readonly Surveyed[]): [first: number, last: number] {
  let [first, last] = [Infinity, -Infinity];
  for (const { takenAt } of members) {
    if (takenAt === null) continue;
    first = Math.min(first, takenAt);
    last = Math.max(last, takenAt);
  }
  return last >= first ? [first, last] : [0, 0];
}

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
/** Most counts first; the content, not the name, decides between equals. */
const byCounts = (a: Surveyed, b: Surveyed): number =>
  b.totalCounts - a.totalCounts || byText(a.sha256, b.sha256) || byText(a.name, b.name);
