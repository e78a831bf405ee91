import type { Spectrum } from '@limner/core';

const MONTHS = ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC'];
const MS_PER_MINUTE = 60_000;
type Headed = { readonly header: readonly Pick<Spectrum['header'][number], 'key' | 'value'>[] };

/** What the header states under a keyword; '' where it does not. */
export const headerValue = ({ header }: Headed, key: string): string =>
  header.find((entry) => entry.key === key)?.value.trim() ?? '';

/** The day on which a spectrum was taken, YYYY-MM-DD, from DATE (DD-MMM-YYYY, ISO 22029); '' where it is not stated so. */
export function dayTaken(spectrum: Headed): string {
  const [, day = '', name = '', year] = /^(\d{1,2})-([A-Za-z]{3})-(\d{4})$/.exec(headerValue(spectrum, 'DATE')) ?? [];
  const month = MONTHS.indexOf(name.toUpperCase());
  return month < 0 ? '' : `${year}-${String(month + 1).padStart(2, '0')}-${day.padStart(2, '0')}`;
}

/** When a spectrum was taken, in minutes since 1970 on the instrument's own clock, from DATE and TIME (HH:MM, ISO 22029); null when not stated. */
export function takenAt(spectrum: Headed): number | null {
  const [, hour, minute, second] = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(headerValue(spectrum, 'TIME')) ?? [];
  const [year = NaN, month, day] = dayTaken(spectrum).split('-').map(Number);
  if (month === undefined || hour === undefined) return null;
  const at = Date.UTC(year, month - 1, day, Number(hour), Number(minute), Number(second ?? 0));
  return at / MS_PER_MINUTE;
}
