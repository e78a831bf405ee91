import { describe, expect, it } from 'vitest';
import { fourier, sizeFor } from './fourier.ts';

describe('the transform', () => {
  it.each([2, 8, 64, 4096])('of %d values is the sum of its definition, and back again', (n) => {
    const re = Float64Array.from({ length: n }, (_, j) => ((j * 37) % 11) - 3);
    const im = Float64Array.from({ length: n }, (_, j) => ((j * 53) % 7) - 2);
    const data = { re: re.slice(), im: im.slice() };
    fourier(data);
    for (const k of new Set([0, 1, n >> 1, n - 1])) {
      let [x, y] = [0, 0];
      for (let j = 0; j < n; j++) {
        const angle = (-2 * Math.PI * ((j * k) % n)) / n;
        x += re[j] * Math.cos(angle) - im[j] * Math.sin(angle);
        y += re[j] * Math.sin(angle) + im[j] * Math.cos(angle);
      }
      expect(Math.abs(data.re[k] - x)).toBeLessThan(1e-11 * n);
      expect(Math.abs(data.im[k] - y)).toBeLessThan(1e-11 * n);
    }
    fourier(data, true);
    expect(data.re.every((value, j) => Math.abs(value - re[j]) < 1e-12)).toBe(true);
    expect(data.im.every((value, j) => Math.abs(value - im[j]) < 1e-12)).toBe(true);
  });

  it('has the least size that holds what is asked', () => {
    expect([1, 2, 3, 1024, 1025].map(sizeFor)).toEqual([2, 2, 4, 1024, 2048]);
  });
});
