import { Gaussian, PseudoVoigt } from 'ml-peak-shape-generator';
import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from './detector.ts';
import { erfc } from './error-function.ts';
import { SILICON } from './layers.ts';
import { addLine, lineShape, type LineShape } from './line-shape.ts';
import { FWHM_PER_SIGMA, fwhmEv } from './resolution.ts';

const AXIS = { offsetEv: -200, gainEv: 10 };
const GAUSS: LineShape = { centreEv: 6403, sigmaEv: 55, naturalEv: 0, tail: 0, tailDecayEv: 1 };

function counts(shape: LineShape, area = 1, axis = AXIS, n = 4096): Float64Array {
  const out = new Float64Array(n);
  addLine(out, axis, shape, area);
  return out;
}
const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
const energy = (i: number, axis = AXIS): number => axis.offsetEv + axis.gainEv * i;
const mean = (values: Float64Array): number => values.reduce((a, c, i) => a + c * energy(i), 0) / sum(values);

describe('addLine', () => {
  it('keeps the area: Gaussian to 1e-8, with tail to 1e-6, with natural width to 1 % of the Lorentzian part', () => {
    expect(Math.abs(sum(counts(GAUSS)) - 1)).toBeLessThan(1e-8);
    expect(Math.abs(sum(counts({ ...GAUSS, tail: 0.05, tailDecayEv: 150 })) - 1)).toBeLessThan(1e-6);
    expect(Math.abs(sum(counts({ ...GAUSS, naturalEv: 8 })) - 1)).toBeLessThan(2e-3);
  });

  it('is the Gaussian of the peak-shape library, integrated over the channel', () => {
    const gaussian = new Gaussian({ sd: GAUSS.sigmaEv });
    const height = gaussian.calculateHeight(1);
    counts(GAUSS).forEach((value, i) => {
      const x = energy(i) - GAUSS.centreEv;
      if (Math.abs(x) > 250) return;
      // Simpson's rule over the channel.
      const simpson = [1, 4, 2, 4, 2, 4, 2, 4, 1].reduce((a, w, k) => a + w * gaussian.fct(x - 5 + 1.25 * k), 0) / 24;
      expect(Math.abs(value / (10 * height * simpson) - 1)).toBeLessThan(1e-6);
    });
  });

  it('has a pseudo-Voigt core as wide as the library makes it from the same width and mixing', () => {
    const out = counts({ ...GAUSS, naturalEv: 20, centreEv: 6400 });
    const top = out.reduce((a, b) => Math.max(a, b), 0);
    const half =
      (out.findIndex((value) => value > top / 2) -
        (out.length - 1 - [...out].reverse().findIndex((value) => value > top / 2))) *
      -10;
    // Olivero & Longbothum 1977: FWHM of a Voigt profile to 0.02 %.
    const [g, l] = [GAUSS.sigmaEv * FWHM_PER_SIGMA, 20];
    const voigt = 0.5346 * l + Math.sqrt(0.2166 * l * l + g * g);
    expect(Math.abs(half - voigt)).toBeLessThan(10);
    const library = new PseudoVoigt({ fwhm: voigt, mu: 1 });
    expect(library.fct(voigt / 2)).toBeCloseTo(0.5, 6);
  });

  it('puts the tail below the line: its mean lies one decay length lower', () => {
    const tail = counts({ ...GAUSS, tail: 1, tailDecayEv: 150 });
    expect(Math.abs(mean(tail) - (GAUSS.centreEv - 150))).toBeLessThan(0.1);
  });

  it('has the tail of the formula, integrated over the channel', () => {
    const [sigma, decay] = [55, 150];
    const tail = counts({ ...GAUSS, tail: 1, tailDecayEv: decay });
    const density = (x: number): number =>
      (Math.exp(x / decay + sigma ** 2 / (2 * decay ** 2)) / (2 * decay)) *
      erfc(x / (sigma * Math.SQRT2) + sigma / (decay * Math.SQRT2));
    tail.forEach((value, i) => {
      const x = energy(i) - GAUSS.centreEv;
      if (x < -12 * decay || x > 5 * sigma) return;
      const simpson = [1, 4, 2, 4, 2, 4, 2, 4, 1].reduce((a, w, k) => a + w * density(x - 5 + 1.25 * k), 0) / 24;
      expect(Math.abs(value - 10 * simpson)).toBeLessThan(1e-9);
    });
  });

  it('is finite for tails much shorter than the peak is wide, and for channels wider than it', () => {
    for (const tailDecayEv of [1e-9, 0.1, 5, 8]) {
      const out = counts({ ...GAUSS, tail: 0.1, tailDecayEv });
      expect(Math.abs(sum(out) - 1)).toBeLessThan(1e-6);
    }
    const wide = counts({ ...GAUSS, naturalEv: 5, sigmaEv: 20 }, 1, { offsetEv: 0, gainEv: 800 }, 200);
    expect(Math.abs(sum(wide) - 1)).toBeLessThan(5e-3);
    expect(wide.every((value) => value >= 0)).toBe(true);
  });

  it('adds to what is there, scales with the area, and ignores lines off the axis', () => {
    const out = counts(GAUSS, 100);
    addLine(out, AXIS, GAUSS, 100);
    expect(Math.abs(sum(out) - 200)).toBeLessThan(1e-5);
    expect(sum(counts({ ...GAUSS, centreEv: -5000 }))).toBe(0);
    expect(sum(counts({ ...GAUSS, centreEv: 90_000 }))).toBe(0);
    expect(sum(counts(GAUSS, 0))).toBe(0);
  });

  it('keeps half of a line that sits on the last channel edge', () => {
    const half = counts({ ...GAUSS, centreEv: energy(100.5) }, 1, AXIS, 101);
    expect(Math.abs(sum(half) - 0.5)).toBeLessThan(1e-9);
  });
});

describe('lineShape', () => {
  it('draws C, N and O 3 to 10 eV down and widens them 1 to 10 %; hard lines stay', () => {
    for (const soft of [277, 392.4, 524.9]) {
      const shape = lineShape(DEFAULT_DETECTOR, soft);
      expect(soft - shape.centreEv).toBeGreaterThan(3);
      expect(soft - shape.centreEv).toBeLessThan(10);
      const widening = (shape.sigmaEv * FWHM_PER_SIGMA) / fwhmEv(DEFAULT_DETECTOR, soft) - 1;
      expect(widening).toBeGreaterThan(0.01);
      expect(widening).toBeLessThan(0.1);
    }
    expect(6404 - lineShape(DEFAULT_DETECTOR, 6404).centreEv).toBeLessThan(0.5);
  });

  it('has more tail just above the Si K edge than just below', () => {
    expect(lineShape(DEFAULT_DETECTOR, 1850).tail).toBeGreaterThan(1.5 * lineShape(DEFAULT_DETECTOR, 1830).tail);
  });

  it.each([277, 392.4, 524.9, 676.8, 1486.7, 2013.7, 2307.8, 2622])(
    'at %d eV: within 2.2 %% of the height of photons lost at every depth, folded with the Gaussian',
    (ev) => {
      const detector = { ...DEFAULT_DETECTOR, deepTail: 0 };
      const axis = { offsetEv: 0, gainEv: 2 };
      const n = 1600;
      const [exact, short] = [new Float64Array(n), new Float64Array(n)];
      const sigmaEv = fwhmEv(detector, ev) / FWHM_PER_SIGMA;
      const depths = 2000;
      for (let k = 0; k < depths; k++) {
        // Photons absorbed above depth z: u = 1 - exp(-mu z).
        const depth = -Math.log(1 - (k + 0.5) / depths) / SILICON(ev);
        const lost = detector.surfaceLoss * Math.exp(-depth / detector.lossDepthUm);
        addLine(exact, axis, { ...GAUSS, centreEv: ev * (1 - lost), sigmaEv }, 1 / depths);
      }
      addLine(short, axis, lineShape(detector, ev), 1);
      const height = exact.reduce((a, b) => Math.max(a, b), 0);
      expect(exact.reduce((worst, value, i) => Math.max(worst, Math.abs(value - short[i])), 0)).toBeLessThan(
        0.022 * height,
      );
      const at = (values: Float64Array): number => values.reduce((a, c, i) => a + 2 * i * c, 0) / sum(values);
      expect(Math.abs(at(exact) - at(short))).toBeLessThan(0.02);
    },
  );

  it('at no energy, as for the zero peak, is the noise alone', () => {
    expect(lineShape(DEFAULT_DETECTOR, 0)).toMatchObject({ centreEv: 0, tail: DEFAULT_DETECTOR.deepTail });
    expect(lineShape(DEFAULT_DETECTOR, 0).sigmaEv * FWHM_PER_SIGMA).toBeCloseTo(DEFAULT_DETECTOR.noiseEv, 9);
  });
});

describe('erfc', () => {
  // Digits of the function, Abramowitz & Stegun, Handbook of Mathematical Functions (1964), Table 7.1 (from memory: 1 - erf x).
  it.each([
    [0, 1],
    [0.5, 0.4795001221869535],
    [1, 0.15729920705028513],
    [2, 0.004677734981047266],
    [3, 2.209049699858544e-5],
    [-1, 1.8427007929497148],
  ])('erfc(%d)', (x, value) => {
    expect(Math.abs(erfc(x) / value - 1)).toBeLessThan(1e-12);
  });

  it('joins its two branches', () => {
    expect(Math.abs(erfc(2 - 1e-12) / erfc(2) - 1)).toBeLessThan(1e-10);
  });
});
