import { expect, it } from 'vitest';
import { pathInSphere, sectionRadius } from './grain-geometry.ts';

const [SINE, COSINE] = [Math.sin(0.7), Math.cos(0.7)];

it('counts the way inside the sphere as stepping along it does', () => {
  for (const sphere of [
    { radius: 2, centre: 0 },
    { radius: 2, centre: 2 },
    { radius: 1, centre: -0.5 },
  ]) {
    for (const [x, y, z] of [
      [0, 0, 1],
      [-3, 0.2, 2.5],
      [0, 0, 6],
      [1.5, 1, 0.5],
      [4, 0, 1],
      [0.3, -0.4, 3.9],
    ]) {
      const n = 100_000;
      const whole = z / SINE;
      let inside = 0;
      for (let k = 0; k < n; k++) {
        const l = ((k + 0.5) / n) * whole;
        if (Math.hypot(x + l * COSINE, y, z - l * SINE - sphere.centre) < sphere.radius) inside += whole / n;
      }
      expect(Math.abs(pathInSphere(sphere, x, y, z, SINE, COSINE) - inside)).toBeLessThan(3e-4);
    }
  }
});

it('gives the radius of the cut', () => {
  expect(sectionRadius({ radius: 5, centre: 0 }, 3)).toBe(4);
  expect(sectionRadius({ radius: 5, centre: 5 }, 0)).toBe(0);
  expect(sectionRadius({ radius: 5, centre: 0 }, 6)).toBe(0);
});
