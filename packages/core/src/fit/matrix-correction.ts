import type { MassFractions } from '../atomic/composition.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { sumOver } from '../arithmetic/sum.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import type { Emission } from '../emission/thick/characteristic.ts';
import type { Instrument } from '../model/instrument.ts';
import { lineAreas } from '../model/templates.ts';
import type { Design } from './design.ts';
import { fractions, hidesOxygen } from './mass-fractions.ts';
import { MATRIX_STEP, nextMatrix, type MatrixTried } from './matrix-step.ts';

/** What a fit found in a matrix. */
export interface FoundIn {
  readonly zs: readonly number[];
  /** Aligned with zs. */
  readonly amounts: Float64Array;
  /** Detected area of every line per unit amount in that matrix, LINE_TABLE order. */
  readonly areas: Float64Array;
  /** How amounts become mass fractions. */
  fractions(amounts: Float64Array): MassFractions;
}

/** What a model made with a matrix has for amounts of its elements. @param amounts aligned with the design's templates */
export function foundIn(
  made: MassFractions,
  instrument: Instrument,
  { areas, layout }: Pick<Design, 'areas' | 'layout'>,
  amounts: Float64Array,
): FoundIn {
  const zs = layout.templates.map(({ z }) => z);
  const oxides = hidesOxygen(instrument);
  return { zs, amounts, areas, fractions: (of) => fractions(zs, of, made, oxides) };
}

/** Mass fraction by which the last step may still move: absorption feels no less. */
const STILL = 1e-3;
/** Matrices tried at most: each brings the next several times nearer. */
const MOST_TRIED = 5;

/**
 * The matrix that agrees with itself: in it the amounts that give every element the detected area that a fit found are its own mass
 * fractions. The counts fix areas; what amount an area means goes with the matrix, by absorption, stopping and fluorescence, so no new
 * fit is needed to see where the matrix goes (the matrix correction of quantitative analysis).
 */
export function correctedMatrix(emission: Emission, instrument: Instrument, found: FoundIn): MassFractions {
  const there = found.zs
    .map((z, e) => ({ z, e, area: found.amounts[e] * areaOf(z, found.areas) }))
    .filter(({ area }) => area > 0);
  const zs = there.map(({ z }) => z);
  const wanted = new Uint8Array(LINE_TABLE.first.length);
  for (const z of zs) wanted[z] = 1;
  let matrix = found.fractions(found.amounts);
  let tried: MatrixTried | null = null;
  for (let count = 1; ; count++) {
    const emitted = emission.lines(matrix, wanted, EMITTED.zeros(LINE_TABLE.count));
    const areas = lineAreas(emitted, instrument, zs, AREAS.zeros(LINE_TABLE.count));
    const corrected = new Float64Array(found.amounts.length);
    for (const { z, e, area } of there) corrected[e] = area / areaOf(z, areas);
    const next: MatrixTried = { made: matrix, fitted: found.fractions(corrected) };
    if (count === MOST_TRIED || isStill(next)) return next.fitted;
    matrix = nextMatrix(next, tried, MATRIX_STEP);
    tried = next;
  }
}

const [EMITTED, AREAS] = [new Scratch(), new Scratch()];

function isStill({ made, fitted }: MatrixTried): boolean {
  for (let z = 0; z < made.length; z++) if (Math.abs(fitted[z] - made[z]) > STILL) return false;
  return true;
}

/** Area of all lines of an element. */
function areaOf(z: number, areas: Float64Array): number {
  return sumOver(areas, LINE_TABLE.first[z], LINE_TABLE.first[z + 1]);
}
