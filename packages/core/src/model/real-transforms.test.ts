import { expect, it } from 'vitest';
import { Rack } from '../arithmetic/scratch.ts';
import { randomStream } from '../simulate/random.ts';
import { inverses, product, transforms, twiceLess } from './real-transforms.ts';

const random = randomStream(7, 0);
const n = 64;
const room = new Rack();
const noise = (): Float64Array => Float64Array.from({ length: n }, () => random.uniform() - 0.3);
const close = (a: Float64Array, b: Float64Array): void =>
  a.forEach((value, i) => expect(Math.abs(value - b[i])).toBeLessThan(1e-12));

/** Σ a_i b_j over i + j = k, round the end. */
function convolved(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(n);
  a.forEach((x, i) => b.forEach((y, j) => (out[(i + j) % n] += x * y)));
  return out;
}

it.each([1, 2, 3])('%d real arrays come back from their transforms', (count) => {
  const values = Array.from({ length: count }, noise);
  const back = inverses(transforms(values, room), n, room);
  expect(back).toHaveLength(count);
  back.forEach((one, i) => close(one, values[i]));
});

it('products of transforms are convolutions, also those that share a transform', () => {
  const [a, b, c] = [noise(), noise(), noise()];
  const [x, y, z] = transforms([a, b, c], room);
  const [ab, cc, rest] = inverses([product(x, y, room), product(z, z, room), twiceLess(x, y, room)], n, room);
  close(ab, convolved(a, b));
  close(cc, convolved(c, c));
  close(
    rest,
    a.map((value, i) => 2 * value - b[i]),
  );
});
