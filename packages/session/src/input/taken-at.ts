import type { Spectrum } from '@limner/core';

const MONTHS = ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC'];
const MS_PER_MINUTE = 60_000;

/** When a spectrum was taken, in minutes since 1970 on the instrument's own clock, from DATE (DD-MMM-YYYY) and TIME (HH:MM, ISO 22029); null when not stated. */
export function takenAt({ header }: Pick<Spectrum, 'header'>): number | null {
  const valueOf = (key: string): string => header.find((entry) => entry.key === key)?.value.trim() ?? '';
  const [, day, name, year] = /^(\d{1,2})-([A-Za-z]{3})-(\d{4})$/.exec(valueOf('DATE')) ?? [];
  const [, hour, minute, second] = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(valueOf('TIME')) ?? [];
  const month = MONTHS.indexOf((name ?? '').toUpperCase());
  if (month < 0 || hour === undefined) return null;
  const at = Date.UTC(Number(year), month, Number(day), Number(hour), Number(minute), Number(second ?? 0));
  return at / MS_PER_MINUTE;
}
