import { FEWEST_TO_SHARE } from '@limner/core';
import { byCodeUnits } from '../input/code-units.ts';
import { bySetting, spanOf, type Surveyed } from './surveyed.ts';

/**
 * Spectra asked per setting of the instrument: one in so many, so that asking costs a fiftieth of reading, between bounds. What 12 say together is
 * known to 0.3 of the scatter between spectra, which no number of them removes; of the axis to 0.75 eV, 0.5 of it common to all, where one
 * spectrum by itself knows 0.9 to 4 eV. (With 18 it is 0.7 eV: the demo's counts move by 0.03 standard deviations, and no verdict.)
 */
const ONE_IN = 30;
const ASKED = { least: 12, most: 36 } as const;
/** Stretches of the session that each supply some, so that a drift shows. */
const STRETCHES = 12;

/** Spectra worth asking about the instrument: reference materials, and those with most counts in each stretch of time. */
export function worthAsking(surveyed: readonly Surveyed[], isKnown: (name: string) => boolean): Surveyed[] {
  return [...bySetting(surveyed).values()].flatMap((members) => {
    const known = members.filter(({ name }) => isKnown(name));
    // Each spectrum is read with what at least so many others say; with fewer there is nothing to ask.
    if (members.length <= FEWEST_TO_SHARE) return known;
    const rest = members.filter(({ name }) => !isKnown(name)).sort(byCounts);
    const [first, last] = spanOf(members);
    const stretch = ({ takenAt }: Surveyed): number =>
      takenAt === null || last === first ? 0 : Math.floor((STRETCHES * (takenAt - first)) / (last - first + 1e-9));
    const most = Math.min(ASKED.most, Math.max(ASKED.least, Math.ceil(members.length / ONE_IN)));
    const perStretch = Math.ceil(most / new Set(rest.map(stretch)).size);
    const taken = new Map<number, number>();
    const spread = rest.filter((spectrum) => {
      const at = stretch(spectrum);
      taken.set(at, (taken.get(at) ?? 0) + 1);
      return taken.get(at)! <= perStretch;
    });
    return [...known, ...spread.slice(0, most)];
  });
}

/** Most counts first; the content, not the name, decides between equals. */
const byCounts = (a: Surveyed, b: Surveyed): number =>
  b.totalCounts - a.totalCounts || byCodeUnits(a.sha256, b.sha256) || byCodeUnits(a.name, b.name);
