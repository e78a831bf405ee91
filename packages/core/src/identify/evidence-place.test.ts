import { expect, it } from 'vitest';
import { evidencePlace } from './leave-one-out.ts';
import type { Frame } from './state.ts';

const N = 100;
/** Channels of 20 eV from 0: 0.4 keV is channel 20, 1.3 keV channel 65. */
const instrument = { axis: { offsetEv: 0, gainEv: 20 } } as Parameters<typeof evidencePlace>[1];
const frame = { counts: new Float64Array(N).fill(200), range: { lo: 2, hi: N - 2 } } as Frame;
const model = new Float64Array(N).fill(200);
/** A model that lacks half of what was counted in some channels. */
const poorer = (...channels: readonly number[]): Float64Array =>
  model.map((value, i) => (channels.includes(i) ? value / 2 : value));

it('shares of the rise of C below 0.4 and 1.3 keV, the energies themselves left out', () => {
  const place = (...channels: readonly number[]) => evidencePlace(frame, instrument, model, poorer(...channels));
  expect(place(19, 20)).toEqual({ below400: 0.5, soft: 1 });
  expect(place(19, 64, 65, 66)).toEqual({ below400: 0.25, soft: 0.5 });
  expect(place(80)).toEqual({ below400: 0, soft: 0 });
});

it('nothing speaks where nothing rises, or only outside the range', () => {
  const nothing = { below400: 0, soft: 0 };
  expect(evidencePlace(frame, instrument, model, model)).toEqual(nothing);
  expect(evidencePlace(frame, instrument, model, poorer(0, 1, N - 2))).toEqual(nothing);
  expect(evidencePlace(frame, instrument, model, poorer(2, N - 3)).below400).toBe(0.5);
  // Where the poorer one expects nothing, the rise is finite all the same.
  const none = evidencePlace(frame, instrument, model, new Float64Array(N));
  expect(none.soft).toBeCloseTo(63 / 96, 9);
});
