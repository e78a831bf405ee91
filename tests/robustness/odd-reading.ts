// What becomes of an odd spectrum that is read as a file would be.
import { createHash } from 'node:crypto';
import { identify, type LimnerRecord, readSpectrum } from '@limner/core';

export interface OddReading {
  /** `read`, `unfinished`, or the name of the error that refused it. */
  readonly became: string;
  /** What is wrong with it; null for nothing. */
  readonly fault: string | null;
  /** Of the record, or of the message. */
  readonly digest: string;
}

/** Errors that tell a person what to do; any other is a fault of ours. */
const CLEAR = ['EmsaError', 'TooFewCountsError', 'UnexplainableError'];

export function oddReading(seed: number, text: string): OddReading {
  const name = `odd-${seed}`;
  try {
    const record = identify(readSpectrum(new TextEncoder().encode(text), { name }));
    const became = isUnfinished(record) ? 'unfinished' : 'read';
    return { became, fault: unsound(record), digest: digestOf(JSON.stringify(record)) };
  } catch (error) {
    const { name: became, message } = error as Error;
    const clear = CLEAR.includes(became) && (became === 'EmsaError' || message.startsWith(name));
    const fault = clear && !message.includes('the reading failed') ? null : `${became}: ${message}`;
    return { became, fault, digest: digestOf(message) };
  }
}

const digestOf = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 16);

const isUnfinished = ({ warnings }: LimnerRecord): boolean => warnings.some(({ code }) => code === 'unfinished');

function unsound(record: LimnerRecord): string | null {
  const { ledger, conditions, elements } = record;
  const total = ledger.reduce((sum, { counts }) => sum + counts, 0);
  if (!(Math.abs(total / conditions.totalCounts - 1) < 1e-6)) return `the ledger adds up to ${total}`;
  for (const { symbol, verdict, probability, massFraction } of elements) {
    if (!(probability >= 0 && probability <= 1)) return `${symbol} has a probability of ${probability}`;
    if (massFraction && !(massFraction.value <= 1 + 1e-9)) return `${symbol} has a content of ${massFraction.value}`;
    if (isUnfinished(record) && verdict === 'present') return `${symbol} is present in a reading that was not finished`;
  }
  return notFinite(record, 'record');
}

/** The first number of a record that is none; null where all are. */
function notFinite(value: unknown, path: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path} is ${value}`;
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, one] of Object.entries(value)) {
    const found = notFinite(one, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}
