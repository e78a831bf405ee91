/*
 * Sine, cosine and arctangent from sums, products, quotients and roots alone, which every engine rounds alike (IEEE 754); those of `Math` differ
 * in the last bit between engines. Series, derived here.
 */

/** π/2 in three parts: products of the first two with whole numbers to 2^20 are exact. */
const [HALF_PI_1, HALF_PI_2, HALF_PI_3] = [6746518852 / 2 ** 32, 1121027177 / 2 ** 64, 2.912732056093356e-20];

/** Sine of an angle in radians, error below 3e-16 up to some thousand turns. */
export function sin(x: number): number {
  const [quarter, r] = reduced(x);
  const value = quarter % 2 === 0 ? sineSeries(r) : cosineSeries(r);
  return quarter < 2 ? value : -value;
}

/** Cosine of an angle in radians, error below 3e-16 up to some thousand turns. */
export function cos(x: number): number {
  const [quarter, r] = reduced(x);
  const value = quarter % 2 === 0 ? cosineSeries(r) : sineSeries(r);
  return quarter === 0 || quarter === 3 ? value : -value;
}

/** Quarters of a turn, 0 to 3, and what is left of the angle, at most π/4 either way. */
function reduced(x: number): [number, number] {
  const k = Math.floor(x / (Math.PI / 2) + 0.5);
  return [((k % 4) + 4) % 4, x - k * HALF_PI_1 - k * HALF_PI_2 - k * HALF_PI_3];
}

function sineSeries(x: number): number {
  const x2 = x * x;
  let sum = 1;
  for (let n = 18; n >= 2; n -= 2) sum = 1 - (x2 / (n * (n + 1))) * sum;
  return x * sum;
}

function cosineSeries(x: number): number {
  const x2 = x * x;
  let sum = 1;
  for (let n = 17; n >= 1; n -= 2) sum = 1 - (x2 / (n * (n + 1))) * sum;
  return sum;
}

/** Angle of the point (x, y) above the x axis, 0 to π; y > 0. Halved three times, then its series; relative error below 1e-15. */
export function angleOf(y: number, x: number): number {
  let t = y / (Math.abs(x) + Math.sqrt(x * x + y * y));
  for (let halved = 0; halved < 2; halved++) t /= 1 + Math.sqrt(1 + t * t);
  const t2 = t * t;
  let sum = 0;
  for (let n = 21; n >= 3; n -= 2) sum = (1 / n - sum) * t2;
  const angle = 8 * (t - t * sum);
  return x < 0 ? Math.PI - angle : angle;
}
