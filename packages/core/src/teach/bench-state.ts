/** What the bench simulates. Its text stands in an address, so that a link shows another person the same. */
export interface BenchState {
  /** Two to four parts; shares by mass, of any sum. */
  readonly parts: readonly BenchPart[];
  /** keV, 3 to 30. */
  readonly beamKev: number;
  /** FWHM at Mn K-L3, eV, 121 to 180. */
  readonly fwhmMnEv: number;
  /** In the whole spectrum, 1e3 to 1e7. */
  readonly counts: number;
  /** Diameter of a grain cut through its middle in resin, um; null for a thick specimen. */
  readonly grainUm: number | null;
  readonly seed: number;
  readonly noise: boolean;
  /** Symbol of the element taken out of the explanation; null for none. */
  readonly out: string | null;
}

/** One part of the mixture on the bench. */
export interface BenchPart {
  /** Formula, or id of a material. */
  readonly of: string;
  readonly share: number;
}

/** Least and most of each setting of the bench, in its units. */
export const BENCH_LIMITS = {
  beamKev: [3, 30],
  fwhmMnEv: [121, 180],
  counts: [1e3, 1e7],
  grainUm: [0.2, 50],
  seed: [1, 999_999],
  parts: [1, 4],
  share: [0.001, 1e4],
} as const;

export const FIRST_STATE: BenchState = {
  parts: [
    { of: 'PbCO3', share: 90 },
    { of: 'CaSO4', share: 10 },
  ],
  beamKev: 15,
  fwhmMnEv: 130,
  counts: 200_000,
  grainUm: null,
  seed: 1,
  noise: true,
  out: 'S',
};

/** A state that makes no sense; the message says which part and what would. */
export class BenchStateError extends RangeError {
  override readonly name = 'BenchStateError';
}

/** 'parts=PbCO3:90,CaSO4:10&beam=15&res=130&counts=200000&seed=1&noise=on&out=S' */
export function benchStateText(state: BenchState): string {
  const { parts, beamKev, fwhmMnEv, counts, grainUm, seed, noise, out } = state;
  return [
    `parts=${parts.map(({ of, share }) => `${encodeURIComponent(of)}:${share}`).join(',')}`,
    `beam=${beamKev}`,
    `res=${fwhmMnEv}`,
    `counts=${counts}`,
    ...(grainUm === null ? [] : [`grain=${grainUm}`]),
    `seed=${seed}`,
    `noise=${noise ? 'on' : 'off'}`,
    ...(out === null ? [] : [`out=${out}`]),
  ].join('&');
}

/**
 * The state of a text; what it does not name is as in the first state of the bench, but for the element taken out and the grain.
 * @throws BenchStateError
 */
export function benchStateFrom(text: string): BenchState {
  const fields = new Map(
    text
      .split('&')
      .filter(Boolean)
      .map((field): [string, string] => {
        const at = field.indexOf('=');
        if (at < 1) throw new BenchStateError(`'${field}' is not a setting of the bench; write it like beam=15.`);
        return [field.slice(0, at), field.slice(at + 1)];
      }),
  );
  const unknown = [...fields.keys()].find((key) => !KEYS.includes(key));
  if (unknown !== undefined)
    throw new BenchStateError(`The bench has no setting '${unknown}'; it has ${KEYS.join(', ')}.`);
  const number = (key: string, otherwise: number, limits: readonly [number, number]): number =>
    fields.has(key) ? within(key, fields.get(key)!, limits) : otherwise;
  const grain = fields.get('grain');
  return {
    parts: fields.has('parts') ? partsFrom(fields.get('parts')!) : FIRST_STATE.parts,
    beamKev: number('beam', FIRST_STATE.beamKev, BENCH_LIMITS.beamKev),
    fwhmMnEv: number('res', FIRST_STATE.fwhmMnEv, BENCH_LIMITS.fwhmMnEv),
    counts: number('counts', FIRST_STATE.counts, BENCH_LIMITS.counts),
    grainUm: grain === undefined ? null : within('grain', grain, BENCH_LIMITS.grainUm),
    seed: Math.round(number('seed', FIRST_STATE.seed, BENCH_LIMITS.seed)),
    noise: fields.get('noise') !== 'off',
    out: fields.get('out') ?? null,
  };
}

const KEYS = ['parts', 'beam', 'res', 'counts', 'grain', 'seed', 'noise', 'out'];

function within(key: string, text: string, [least, most]: readonly [number, number]): number {
  const value = Number(text);
  if (text.trim() !== '' && value >= least && value <= most) return value;
  throw new BenchStateError(`${key}=${text}: give a number from ${least} to ${most}.`);
}

function partsFrom(text: string): BenchPart[] {
  const parts = text.split(',').map((part) => {
    const at = part.lastIndexOf(':');
    if (at < 1) throw new BenchStateError(`'${part}' is not a part; write it like PbCO3:90.`);
    return { of: decoded(part.slice(0, at)), share: within('share', part.slice(at + 1), BENCH_LIMITS.share) };
  });
  const [least, most] = BENCH_LIMITS.parts;
  if (parts.length < least || parts.length > most)
    throw new BenchStateError(`The bench takes ${least} to ${most} parts, not ${parts.length}.`);
  return parts;
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    throw new BenchStateError(`'${text}' cannot be read as a part.`);
  }
}
