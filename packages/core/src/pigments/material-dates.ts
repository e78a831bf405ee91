import type { MaterialEntry } from './knowledge.ts';

type DateColumn = 'first_painting' | 'latest' | 'dates_trust' | 'dates_source';

/** What is wrong with the years of an entry, their order, trust and source. */
export function checkDates(entry: MaterialEntry, fault: (column: DateColumn, what: string) => void): void {
  const { earliest, firstPainting, latest, datesTrust, datesSource } = entry;
  if (earliest !== null && latest !== null && earliest >= latest)
    fault('latest', `${latest} is not after ${earliest}; give the years in order, BCE negative`);
  if (firstPainting !== null && earliest === null)
    fault(
      'first_painting',
      `${firstPainting} is given without a first use; give earliest too, it may be the same year`,
    );
  if (firstPainting !== null && earliest !== null && firstPainting < earliest)
    fault('first_painting', `${firstPainting} is before the first use of ${earliest}; put the older year there`);
  if (firstPainting !== null && latest !== null && firstPainting >= latest)
    fault('first_painting', `${firstPainting} is not before the last use of ${latest}; give the years in order`);
  const dated = earliest !== null || latest !== null;
  if (dated && datesTrust === 'none')
    fault('dates_trust', 'there are dates; say how sure they are: high, medium or low');
  if (!dated && datesTrust !== 'none')
    fault('dates_trust', `'${datesTrust}' is given without a date; write none or give a date`);
  if (dated && datesSource.length === 0) fault('dates_source', 'there are dates but no source; name one');
  if (!dated && datesSource.length > 0)
    fault('dates_source', 'a source is given without a date; leave it empty or give a date');
}
