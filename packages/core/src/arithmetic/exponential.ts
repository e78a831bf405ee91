/*
 * Exponential and logarithm from sums, products and quotients alone, which every engine rounds alike (IEEE 754). Those of `Math` differ in the
 * last bit between engines, and a last bit can turn a decision. Series, and tables that divide their ranges, derived here.
 */

/** Powers of two from the least to the greatest number. */
const [LEAST_POWER, GREATEST_POWER] = [-1074, 1023];
const POWERS = new Float64Array(GREATEST_POWER - LEAST_POWER + 1);
POWERS[-LEAST_POWER] = 1;
for (let n = 1; n <= GREATEST_POWER; n++) POWERS[n - LEAST_POWER] = 2 * POWERS[n - 1 - LEAST_POWER];
for (let n = -1; n >= LEAST_POWER; n--) POWERS[n - LEAST_POWER] = POWERS[n + 1 - LEAST_POWER] / 2;

/** ln 2 as 2977044471 / 2^32, whose products with whole numbers to 2^21 are exact, and the rest. */
const LN2_HIGH = 2977044471 / 4294967296;
const LN2_LOW = 1.9082149292705877e-10;

/** Parts of an octave that have their power of two in a table. */
const PARTS = 64;
const [PART_HIGH, PART_LOW] = [LN2_HIGH / PARTS, LN2_LOW / PARTS];
const PARTS_PER_UNIT = PARTS / Math.LN2;
const ROOTS = Float64Array.from({ length: PARTS }, (_, j) => 1 + exponentialSeries(j * PART_HIGH + j * PART_LOW));

/** Beyond these the result is no finite number, or less than the least. */
const [GREATEST, LEAST] = [709.782712893384, -744.4400719213812];

/** e to the power x, relative error below 5e-16. */
export function exp(x: number): number {
  if (x > GREATEST) return Infinity;
  if (x < LEAST) return 0;
  const k = Math.floor(x * PARTS_PER_UNIT + 0.5);
  const r = x - k * PART_HIGH - k * PART_LOW;
  const r2 = r * r;
  // |r| < 0.0055: the next term is 4e-17.
  const series = r + r2 * (0.5 + r * (1 / 6) + r2 * (1 / 24 + r * (1 / 120)));
  const root = ROOTS[k & (PARTS - 1)];
  const value = root + root * series;
  const octave = k >> 6;
  return octave > GREATEST_POWER
    ? 2 * value * POWERS[GREATEST_POWER - LEAST_POWER]
    : value * POWERS[octave - LEAST_POWER];
}

/** e to the power x, less 1: exact to 6e-16 of it near 0 too. */
export function expm1(x: number): number {
  return Math.abs(x) < 0.5 ? exponentialSeries(x) : exp(x) - 1;
}

/** x + x²/2 + x³/6 ..., for |x| < 0.7: the term after the last is 4e-18. */
function exponentialSeries(x: number): number {
  let sum = 1;
  for (let n = 17; n >= 2; n--) sum = 1 + (x / n) * sum;
  return x * sum;
}

/** Logarithms are tabled at multiples of 1/128 from 1/√2 to √2. */
const PER_UNIT = 128;
const FIRST = 90;
const LOGARITHMS = Float64Array.from({ length: 92 }, (_, i) => {
  const a = (FIRST + i) / PER_UNIT;
  return logarithmSeries((a - 1) / (a + 1));
});

const float = new Float64Array(1);
const words = new Uint32Array(float.buffer);
float[0] = 1;
/** Which of its halves holds the exponent of a number. */
const HIGH = words[1] === 0x3ff00000 ? 1 : 0;

/** Natural logarithm, relative error below 5e-16; NaN below 0, minus infinity at 0. */
export function log(x: number): number {
  if (!(x > 0 && x < Infinity)) return x === 0 ? -Infinity : x === Infinity ? x : NaN;
  if (x < 1e-300) return log(x * 2 ** 60) - 60 * Math.LN2;
  float[0] = x;
  let octave = (words[HIGH] >>> 20) - 1023;
  let mantissa = x * POWERS[-octave - LEAST_POWER];
  if (mantissa > Math.SQRT2) {
    mantissa *= 0.5;
    octave++;
  }
  const nearest = Math.floor(mantissa * PER_UNIT + 0.5);
  const a = nearest / PER_UNIT;
  const z = (mantissa - a) / (mantissa + a);
  const z2 = z * z;
  // |z| < 0.0028: the next term is 4e-22 of the first.
  const series = 2 * z * (1 + z2 * (1 / 3 + z2 * (1 / 5 + z2 * (1 / 7))));
  return octave * LN2_HIGH + LOGARITHMS[nearest - FIRST] + (series + octave * LN2_LOW);
}

/** Logarithm of 1 + x: exact to 6e-16 of it near 0 too. */
export function log1p(x: number): number {
  return Math.abs(x) < 0.35 ? logarithmSeries(x / (2 + x)) : log(1 + x);
}

/** ln((1 + z) / (1 - z)) = 2 (z + z³/3 + z⁵/5 ...), for |z| < 0.22: the term after the last is 3e-18 of the first. */
function logarithmSeries(z: number): number {
  const z2 = z * z;
  let sum = 0;
  for (let n = 25; n >= 3; n -= 2) sum = (1 / n + sum) * z2;
  return 2 * (z + z * sum);
}
