import { exp } from '../arithmetic/exponential.ts';
import type { Detector } from '../detector/detector.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import { bendContinuum, type ContinuumBends } from './bend-continuum.ts';
import { bendLines, hasShapes, type LineBends } from './bend-lines.ts';
import { bendPhases, type PhaseBends } from './bend-phases.ts';
import { randomStream } from './random.ts';

/**
 * Physics bent away from our own tables, so that a fit built on them meets other physics. Each value is one standard
 * deviation, or where the name says `most` the end of a range that is drawn from evenly; relative unless the name says eV. What is
 * left out is not bent. The seed fixes all draws, and each draw is the same whatever else is bent.
 */
export interface Perturbation extends LineBends, ContinuumBends, PhaseBends {
  /** All attenuation in the specimen. */
  readonly attenuation?: number;
  /** Electronic noise. */
  readonly noise?: number;
  /** Charge lost under the entrance, and tail. */
  readonly tail?: number;
  /** Thickness of the window and its coat. */
  readonly window?: number;
  /** Error of the stated axis: offset in eV, gain relative. */
  readonly offsetEv?: number;
  readonly gain?: number;
  /** Al K and Si K counts of aluminium and silicon in the detector, parts of all counts above their K edges. */
  readonly mostDetectorAluminium?: number;
  readonly mostDetectorSilicon?: number;
  /** Sums lie higher than the sum of their energies, for each photon beyond the first. */
  readonly mostSumShiftEv?: number;
}

/** The drawn factors. */
export interface Bent {
  readonly attenuation: number;
  readonly detector: Detector;
  /** Axis on which the counts really fall. */
  readonly axis: EnergyAxis;
  /** What changes places and shapes of lines; undefined where nothing does. */
  readonly shapes: LineBends | undefined;
  readonly detectorAluminium: number;
  readonly detectorSilicon: number;
  readonly sumShiftEv: number;
  /** Factor on the photons of a line of LINE_TABLE. */
  line(index: number): number;
  /** Factor on the continuum at an energy. */
  continuum(energyEv: number): number;
  /** Parts of an element's photons (of the continuum for z = 0) by the kind of place they come from; they sum to 1. */
  phases(z: number): readonly number[];
}

/** One purpose per draw: adding one leaves the others as they were. */
const PURPOSE = {
  attenuation: 1,
  noise: 2,
  tail: 3,
  window: 4,
  offset: 5,
  gain: 6,
  aluminium: 9,
  silicon: 10,
  sums: 11,
};

export function bend(perturbation: Perturbation | undefined, detector: Detector, axis: EnergyAxis): Bent {
  const p = perturbation ?? { seed: 0 };
  const factor = (sigma: number | undefined, purpose: number): number =>
    sigma === undefined ? 1 : exp(sigma * randomStream(p.seed, purpose).normal());
  const upTo = (most: number | undefined, purpose: number): number =>
    most === undefined ? 0 : most * randomStream(p.seed, purpose).uniform();
  return {
    attenuation: factor(p.attenuation, PURPOSE.attenuation),
    detector: bendDetector(
      detector,
      factor(p.noise, PURPOSE.noise),
      factor(p.tail, PURPOSE.tail),
      factor(p.window, PURPOSE.window),
    ),
    axis: {
      offsetEv: axis.offsetEv + (p.offsetEv ?? 0) * randomStream(p.seed, PURPOSE.offset).normal(),
      gainEv: axis.gainEv * factor(p.gain, PURPOSE.gain),
    },
    shapes: hasShapes(p) ? p : undefined,
    detectorAluminium: upTo(p.mostDetectorAluminium, PURPOSE.aluminium),
    detectorSilicon: upTo(p.mostDetectorSilicon, PURPOSE.silicon),
    sumShiftEv: upTo(p.mostSumShiftEv, PURPOSE.sums),
    line: bendLines(p),
    continuum: bendContinuum(p),
    phases: bendPhases(p),
  };
}

function bendDetector(detector: Detector, noise: number, tail: number, window: number): Detector {
  return {
    ...detector,
    noiseEv: detector.noiseEv * noise,
    surfaceLoss: Math.min(1, detector.surfaceLoss * tail),
    deepTail: Math.min(1, detector.deepTail * tail),
    windowUm: detector.windowUm * window,
    aluminiumNm: detector.aluminiumNm * window,
  };
}
