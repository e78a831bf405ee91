import { LINE_TABLE, lineAt } from '../atomic/lines.ts';
import type { Detector } from '../detector/detector.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import { randomStream } from './random.ts';

/**
 * Physics bent away from our own tables, so that a fit built on them meets other physics. Each value is one standard
 * deviation, relative unless said otherwise; what is left out is not bent. The seed fixes all draws.
 */
export interface Perturbation {
  readonly seed: number;
  /** Lines of one initial subshell and final shell against the others of their element (K-L against K-M, ...). */
  readonly lineRatio?: number;
  /** K, L and M lines of an element against each other. */
  readonly family?: number;
  /** All attenuation in the specimen. */
  readonly attenuation?: number;
  /** Height of the continuum over energy: slope and curvature in ln E. */
  readonly continuum?: number;
  /** Electronic noise. */
  readonly noise?: number;
  /** Charge lost under the entrance, and tail. */
  readonly tail?: number;
  /** Thickness of the window and its coat. */
  readonly window?: number;
  /** Error of the stated axis: offset in eV, gain relative. */
  readonly offsetEv?: number;
  readonly gain?: number;
}

/** The drawn factors. */
export interface Bent {
  readonly attenuation: number;
  readonly detector: Detector;
  /** Axis on which the counts really fall. */
  readonly axis: EnergyAxis;
  /** Factor on a line of LINE_TABLE. */
  line(index: number): number;
  /** Factor on the continuum at an energy. */
  continuum(energyEv: number): number;
}

/** One purpose per draw: adding one leaves the others as they were. */
const PURPOSE = { attenuation: 1, noise: 2, tail: 3, window: 4, offset: 5, gain: 6, continuum: 7, lines: 100 };

export function bend(perturbation: Perturbation | undefined, detector: Detector, axis: EnergyAxis): Bent {
  const p = perturbation;
  if (p === undefined) return { attenuation: 1, detector, axis, line: () => 1, continuum: () => 1 };
  const factor = (sigma: number | undefined, purpose: number): number =>
    sigma === undefined ? 1 : Math.exp(sigma * randomStream(p.seed, purpose).normal());
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
    line: (index) => factor(p.lineRatio, groupPurpose(index)) * factor(p.family, familyPurpose(index)),
    continuum: continuumFactor(p),
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

function continuumFactor({ seed, continuum = 0 }: Perturbation): (energyEv: number) => number {
  const random = randomStream(seed, PURPOSE.continuum);
  const [slope, curvature] = [random.normal() * continuum, random.normal() * continuum];
  return (energyEv) => {
    const x = Math.log(energyEv / 2000);
    return Math.exp(slope * x + 0.5 * curvature * x * x);
  };
}

/** A purpose of its own for each element, subshell and shell the vacancy goes to. */
function groupPurpose(index: number): number {
  const final = lineAt(index).iupac.split('-')[1] ?? '';
  return PURPOSE.lines + 1000 * LINE_TABLE.z[index] + 50 * LINE_TABLE.subshell[index] + 'LMNOPQ'.indexOf(final[0]);
}

function familyPurpose(index: number): number {
  const s = LINE_TABLE.subshell[index];
  return PURPOSE.lines + 1000 * LINE_TABLE.z[index] + 800 + (s === 0 ? 0 : s <= 3 ? 1 : 2);
}
