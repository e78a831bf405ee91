import { elementName } from '../atomic/elements.ts';
import type { LimnerRecord } from '../record/record.ts';
import { bestFitting } from './sections/answer.ts';
import { VERDICTS } from './sections/elements.ts';
import { capital } from './terms/numerals.ts';

/** What differs between two readings of one spectrum: verdicts first, then what fits best. Never empty. */
export function differencesTold(before: LimnerRecord, after: LimnerRecord): string[] {
  const earlier = new Map(before.elements.map(({ symbol, verdict }) => [symbol, verdict]));
  const verdicts = after.elements.flatMap(({ symbol, z, verdict }) => {
    const was = earlier.get(symbol);
    return was === undefined || was === verdict
      ? []
      : [`${capital(elementName(z))}: ${VERDICTS[was]} before, ${VERDICTS[verdict]} now.`];
  });
  const [was, is] = [before, after].map((record) => bestFitting(record)?.name ?? 'none stands out');
  const best = was === is ? [] : [`Best fit: ${was} before, ${is} now.`];
  const told = [...verdicts, ...best];
  return told.length > 0 ? told : ['No verdict changes, and the same material fits best.'];
}
