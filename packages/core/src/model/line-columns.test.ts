import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { escapeRatio, SILICON_ESCAPE_EV } from '../detector/escape.ts';
import { addLine as addIntegratedLine } from '../detector/line-shape.ts';
import { FWHM_PER_SIGMA, fwhmEv } from '../detector/resolution.ts';
import { lineResponse, type Instrument } from './instrument.ts';
import { addLine, lineNature, newLineSum, type LineSum } from './line-columns.ts';
import { voigtSigma } from './peak-shape.ts';

const AREA = 1e6;
const N = 4096;
const instrument: Instrument = { axis: { offsetEv: -200, gainEv: 5 }, detector: DEFAULT_DETECTOR };
const NO_TAILS = 0;
const WITH_TAILS = 1;

function line(energyEv: number, naturalEv: number, share: number, on: Instrument = instrument): LineSum {
  const sum = newLineSum(N, true, true);
  addLine(sum, on, lineNature(energyEv, naturalEv), AREA, share);
  return sum;
}

const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);
const furthest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);

describe('a line beside its shape integrated over each channel', () => {
  /** The response without its escape peak, each part integrated. */
  function integrate(energyEv: number, naturalEv: number): Float64Array {
    const { centreEv, sigmaEv, near, far } = lineResponse(instrument, energyEv);
    const { axis } = instrument;
    // The channel's own width is in the sampled line's variance, and comes by integration in the other.
    const sigma = Math.sqrt(sigmaEv ** 2 - axis.gainEv ** 2 / 12);
    const fwhm = sigmaEv * FWHM_PER_SIGMA;
    const out = new Float64Array(N);
    const shape = { centreEv, sigmaEv: sigma, naturalEv, tail: 0, tailDecayEv: 1 };
    addIntegratedLine(out, axis, shape, AREA * (1 - near - far));
    addIntegratedLine(out, axis, { ...shape, naturalEv: 0, tail: 1, tailDecayEv: fwhm }, AREA * near);
    addIntegratedLine(out, axis, { ...shape, naturalEv: 0, tail: 1, tailDecayEv: 3 * fwhm }, AREA * far);
    return out;
  }

  // Sampling at channel centres is exact to second order; the pseudo-Voigt's Lorentzian wings are cut at different places.
  it.each([
    [1041, 0, 1e-3],
    [1740, 0, 1e-3],
    // Natural widths below 2 eV are left out of the sampled line.
    [1041, 0.5, 1e-2],
    [1740, 0.6, 1e-2],
    [6404, 2.6, 5e-3],
    [10551, 7.5, 1e-2],
    [17479, 6.4, 1e-2],
  ])('%f eV, natural width %f eV: within %f of the top', (energyEv, naturalEv, tolerance) => {
    const { value, escape } = line(energyEv, naturalEv, WITH_TAILS);
    const integrated = integrate(energyEv, naturalEv);
    const peak = value.map((counts, i) => counts - escape![i]);
    expect(furthest(peak, integrated) / Math.max(...integrated)).toBeLessThan(tolerance);
  });

  it('its tails within 3 %', () => {
    const { value, escape } = line(6404, 0, WITH_TAILS);
    const fwhm = lineResponse(instrument, 6404).sigmaEv * FWHM_PER_SIGMA;
    const below = Math.round((6404 - 4 * fwhm - instrument.axis.offsetEv) / instrument.axis.gainEv);
    expect(Math.abs((value[below] - escape![below]) / integrate(6404, 0)[below] - 1)).toBeLessThan(0.03);
  });

  it('a weak line is a Gaussian of the same width', () => {
    const wide = voigtSigma(lineResponse(instrument, 10_551).sigmaEv, 7.5);
    const { value, escape } = line(10_551, 7.5, NO_TAILS);
    const peak = value.map((counts, i) => counts - escape![i]);
    const variance = peak.reduce(
      (sum, counts, i) => sum + counts * (instrument.axis.gainEv * i + instrument.axis.offsetEv - 10_551) ** 2,
      0,
    );
    expect(Math.abs(Math.sqrt(variance / AREA) / wide - 1)).toBeLessThan(1e-3);
  });
});

describe('areas', () => {
  it('are conserved at any energy and on any channel width finer than the line', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 700, max: 15000, noNaN: true }),
        fc.double({ min: 4.5, max: 20, noNaN: true }),
        fc.double({ min: -300, max: 100, noNaN: true }),
        (energyEv, gainEv, offsetEv) => {
          const on = { ...instrument, axis: { offsetEv, gainEv } };
          const expected = AREA * (1 + escapeRatio(energyEv));
          // Tails of at most 3.2 % are cut after six decay lengths or at 0 eV.
          expect(Math.abs(total(line(energyEv, 0, NO_TAILS, on).value) / expected - 1)).toBeLessThan(1e-4);
          expect(Math.abs(total(line(energyEv, 0, WITH_TAILS, on).value) / expected - 1)).toBeLessThan(1.5e-3);
        },
      ),
      { seed: 11, numRuns: 60 },
    );
  });

  it('of the escape peak: its ratio, 1740 eV below, none below the Si K edge', () => {
    const { escape } = line(6404, 0, WITH_TAILS);
    expect(Math.abs(total(escape!) / (AREA * escapeRatio(6404)) - 1)).toBeLessThan(1e-4);
    const { offsetEv, gainEv } = instrument.axis;
    const mean = escape!.reduce((sum, counts, i) => sum + counts * (offsetEv + gainEv * i), 0) / total(escape!);
    expect(Math.abs(mean - lineResponse(instrument, 6404 - SILICON_ESCAPE_EV).centreEv)).toBeLessThan(0.01);
    expect(total(line(1740, 0, WITH_TAILS).escape!)).toBe(0);
  });
});

describe('derivatives', () => {
  const energyEv = 3691.7;
  const atPeak = line(energyEv, 0, WITH_TAILS);
  const largest = (values: Float64Array): number => Math.max(...values.map(Math.abs));

  it.each([
    [1740, 0],
    [3691.7, 0],
    [10_551, 7.5],
  ])('per eV of energy: the central difference of the whole response at %f eV, natural width %f eV', (at, natural) => {
    // Moving the axis down moves the line up, its width left as it is.
    const step = 0.05;
    const { offsetEv, gainEv } = instrument.axis;
    const moved = (by: number): LineSum =>
      line(at, natural, WITH_TAILS, { ...instrument, axis: { offsetEv: offsetEv - by, gainEv } });
    const [up, down] = [moved(step), moved(-step)];
    const difference = up.value.map((value, i) => (value - down.value[i]) / (2 * step));
    const { shift } = line(at, natural, WITH_TAILS).derivatives!;
    // Of second order in the step, and the support's edges, 5.5 standard deviations out, move in whole channels.
    expect(furthest(shift, difference) / largest(difference)).toBeLessThan(1e-5);
  });

  it.each([
    [1740, 0],
    [3691.7, 0],
    [10_551, 7.5],
  ])('per relative change of the width: the central difference at %f eV, natural width %f eV', (at, natural) => {
    // A noise that widens the line by a known part, channel width aside; the escape peak has a width of its own.
    const wider = (noiseEv: number): Instrument => ({ ...instrument, detector: { ...DEFAULT_DETECTOR, noiseEv } });
    const [low, high] = [wider(DEFAULT_DETECTOR.noiseEv - 0.1), wider(DEFAULT_DETECTOR.noiseEv + 0.1)];
    const sigmas = [low, high].map((on) => lineResponse(on, at).sigmaEv);
    const relative = (sigmas[1] - sigmas[0]) / lineResponse(instrument, at).sigmaEv;
    const [a, b] = [low, high].map((on) => line(at, natural, WITH_TAILS, on));
    const difference = b.value.map((value, i) => (value - a.value[i]) / relative);
    const { width } = line(at, natural, WITH_TAILS).derivatives!;
    const above = Math.round((at - 1000 - instrument.axis.offsetEv) / instrument.axis.gainEv);
    expect(furthest(width.subarray(above), difference.subarray(above)) / largest(difference)).toBeLessThan(1e-4);
    expect(fwhmEv(high.detector, at)).toBeGreaterThan(fwhmEv(low.detector, at));
  });

  it('per area moved into a tail: nothing gained or lost, taken from the peak, put below it', () => {
    const centre = Math.round((energyEv - instrument.axis.offsetEv) / instrument.axis.gainEv);
    const { near, far } = atPeak.derivatives!;
    for (const moved of [near, far]) {
      expect(Math.abs(total(moved)) / AREA).toBeLessThan(1e-2);
      expect(moved[centre]).toBeLessThan(0);
      expect(moved[centre - 40]).toBeGreaterThan(0);
      expect(moved[centre + 60]).toBe(0);
    }
    expect(far[centre - 120]).toBeGreaterThan(near[centre - 120]);
  });
});
