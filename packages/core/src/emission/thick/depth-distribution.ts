import { exp, log } from '../../arithmetic/exponential.ts';
import { power } from '../../arithmetic/power.ts';
import type { MassFractions } from '../../atomic/composition.ts';
import { atomicWeight } from '../../atomic/elements.ts';
import type { SubshellIndex } from '../../atomic/shells.ts';
import { backscatterCoefficient } from '../electrons/backscatter.ts';

// The depth distribution of ionisations, phi(rho z), in the form of two exponentials, usually called XPP.
// Source of all formulas and constants here: J.L. Pouchou, F. Pichoir in Electron Probe Quantitation (Plenum, 1991), p. 31,
// from memory; proved by the closure identities in depth-distribution.test.ts. Energies in keV, depths in g/cm2.

/** What the model needs to know of the matrix. */
export interface MatrixMeans {
  /** Sum of C Z / A, mol/g. */
  readonly electronsPerGram: number;
  /** Mean ionisation energy J, keV. */
  readonly ionisationKev: number;
  /** Mass-fraction mean of Z. */
  readonly z: number;
  /** Square of the mass-fraction mean of sqrt Z. */
  readonly zBackscatter: number;
  readonly backscatter: number;
  /** Stopping terms: coefficients D and exponents P. */
  readonly d: readonly [number, number, number];
  readonly p: readonly [number, number, number];
  /** What follows from these alone, for all edges. */
  readonly derived: Derived;
}

interface Derived {
  /** Of the surface value: power of the backscatter coefficient, and exponent of the overvoltage. */
  readonly surfaceFactor: number;
  readonly surfaceExponent: number;
  /** Mean relative energy of backscattered electrons, and the exponent that goes with it. */
  readonly w: number;
  readonly q: number;
  /** Of F / Rm. */
  readonly x: number;
  readonly y: number;
  readonly lnY: number;
  /** Of the slope at the surface. */
  readonly ln4Z: number;
}

/**
 * phi(rz) = A exp(-a rz) + (B rz + phi0 - A) exp(-b rz), relative to an isolated thin layer.
 * `generated` is its integral F, `meanDepth` Rm, `slope` its slope at the surface, `backscatterLoss` the factor R.
 */
export interface DepthDistribution {
  readonly surface: number;
  readonly generated: number;
  readonly meanDepth: number;
  readonly slope: number;
  readonly backscatterLoss: number;
  readonly a: number;
  readonly b: number;
  readonly amplitudeA: number;
  readonly amplitudeB: number;
}

export function matrixMeans(matrix: MassFractions): MatrixMeans {
  let [m, lnJ, z, rootZ] = [0, 0, 0, 0];
  for (let element = 1; element < matrix.length; element++) {
    const c = matrix[element];
    if (!(c > 0)) continue;
    const electrons = (c * element) / atomicWeight(element);
    m += electrons;
    lnJ += electrons * log((element * (10.04 + 8.25 * exp(-element / 11.22))) / 1000);
    z += c * element;
    rootZ += c * Math.sqrt(element);
  }
  const j = exp(lnJ / m);
  const zBackscatter = rootZ * rootZ;
  const backscatter = backscatterCoefficient(zBackscatter);
  return {
    electronsPerGram: m,
    ionisationKev: j,
    z,
    zBackscatter,
    backscatter,
    d: [6.6e-6, 1.12e-5 * (1.35 - 0.45 * j * j), 2.2e-6 / j],
    p: [0.78, 0.1, 0.25 * j - 0.5],
    derived: derivedFrom(z, zBackscatter, backscatter),
  };
}

function derivedFrom(z: number, zBackscatter: number, eta: number): Derived {
  const w = 0.595 + eta / 3.7 + power(eta, 4.55);
  const y = 0.2 + zBackscatter / 200;
  return {
    surfaceFactor: power(eta, 1.2),
    surfaceExponent: 2.3 * eta - 2,
    w,
    q: (2 * w - 1) / (1 - w),
    x: 1 + 1.3 * log(zBackscatter),
    y,
    lnY: log(1 + y),
    ln4Z: log(4 * z),
  };
}

/** Exponent m in the energy dependence of the ionisation cross section, ln U / U^m. */
export function crossSectionExponent(z: number, s: SubshellIndex): number {
  if (s === 0) return 0.86 + 0.12 * exp(-((z / 5) ** 2));
  return s <= 3 ? 0.82 : 0.78;
}

/** One that is not worked out yet. */
export function blankDistribution(): DepthDistribution {
  return {
    surface: NaN,
    generated: NaN,
    meanDepth: NaN,
    slope: NaN,
    backscatterLoss: NaN,
    a: NaN,
    b: NaN,
    amplitudeA: NaN,
    amplitudeB: NaN,
  };
}

/**
 * phi(rho z) of an ionisation edge (or of photons of that energy) in a matrix; needs beamKev > edgeKev.
 * @param out where it goes: who looks at thousands, one after the other, takes the same for all
 */
export function depthDistribution(
  means: MatrixMeans,
  beamKev: number,
  edgeKev: number,
  exponent: number,
  out: DepthDistribution = blankDistribution(),
): DepthDistribution {
  const u = Math.max(beamKev / edgeKev, 1 + 1e-4);
  const lnU = log(u);
  const { surfaceFactor, surfaceExponent } = means.derived;
  const backscatterLoss = lossByBackscatter(means, u, lnU);
  const surface = 1 + 3.3 * (1 - raised(lnU, surfaceExponent)) * surfaceFactor;
  const generated =
    (backscatterLoss * ionisationLength(means, u, lnU, beamKev, edgeKev, exponent)) /
    (lnU / (edgeKev * edgeKev * raised(lnU, exponent)));
  const meanDepth = Math.min(generated / surface, generated / depthRatio(means, lnU));
  const made: Writable<DepthDistribution> = out;
  made.surface = surface;
  made.generated = generated;
  made.meanDepth = meanDepth;
  made.backscatterLoss = backscatterLoss;
  putExponentials(made, means, u);
  return out;
}

/** The power of a number of which the logarithm is known; as {@link power} has it. */
const raised = (ln: number, exponent: number): number => (exponent === 0 ? 1 : exp(exponent * ln));

/** Part of the ionisations that stays although some electrons leave the specimen: R. */
function lossByBackscatter({ backscatter, derived: { w, q } }: MatrixMeans, u: number, lnU: number): number {
  const j = 1 + u * (lnU - 1);
  const g = (u - 1 - (1 - raised(lnU, -(1 + q))) / (1 + q)) / ((2 + q) * j);
  return 1 - backscatter * w * (1 - g);
}

/** Path-length integral of the relative cross section over the stopping power, the model's 1/S. */
function ionisationLength(
  { d, p, ionisationKev, electronsPerGram }: MatrixMeans,
  u: number,
  lnU: number,
  beamKev: number,
  edgeKev: number,
  exponent: number,
): number {
  const v = beamKev / ionisationKev;
  // V0/U0 = Ec/J does not depend on the beam.
  const lnRatio = log(edgeKev / ionisationKev);
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const t = 1 + p[k] - exponent;
    const power = exp(t * lnU);
    // [T U^T ln U - U^T + 1] / T2 tends to (ln U)2 / 2 where T vanishes.
    const bracket =
      Math.abs(t * lnU) < 1e-3 ? lnU * lnU * (0.5 + (t * lnU) / 3) : (t * power * lnU - power + 1) / (t * t);
    sum += d[k] * exp(p[k] * lnRatio) * bracket;
  }
  return (u / (v * electronsPerGram)) * sum;
}

/** F / Rm. */
function depthRatio({ derived: { x, y, lnY } }: MatrixMeans, lnU: number): number {
  return 1 + (x * log(1 + y * (1 - raised(lnU, -0.42)))) / lnY;
}

/** Least decay constant a, as part of b: just above an edge the formulas would give a < 0, a rise without end. */
const LEAST_DECAY = 0.1;
/** Least |a - b| / b: the two exponentials must not coincide. */
const LEAST_DIFFERENCE = 1e-4;

type Writable<T> = { -readonly [Key in keyof T]: T[Key] };

/**
 * Puts in the two exponentials from surface value, integral, mean depth and the surface slope wanted; the slope gives way where the
 * decay constants run into their limits.
 */
function putExponentials(out: Writable<DepthDistribution>, { z, derived: { ln4Z } }: MatrixMeans, u: number): void {
  const { surface, generated, meanDepth } = out;
  const b = (Math.SQRT2 * (1 + Math.sqrt(Math.max(0, 1 - (meanDepth * surface) / generated)))) / meanDepth;
  const g = 0.22 * ln4Z * (1 - 2 * exp((-z * (u - 1)) / 15));
  const h = 1 - (10 * (1 - 1 / (1 + u / 10))) / (z * z);
  const limit = 0.9 * b * meanDepth * meanDepth * (b - (2 * surface) / generated);
  const wanted = (generated / (meanDepth * meanDepth)) * Math.min(g * h * h * h * h, limit);
  const denominator = b * generated * (2 - b * meanDepth) - surface;
  const excess = b * (2 * surface - b * generated);
  const ratio = Math.max(LEAST_DECAY, (wanted + excess) / (denominator * b)) - 1;
  const e = Math.abs(ratio) >= LEAST_DIFFERENCE ? ratio : LEAST_DIFFERENCE;
  const a = b * (1 + e);
  const slope = a * denominator - excess;
  const amplitudeB = (b * b * generated * (1 + e) - slope - surface * b * (2 + e)) / e;
  out.slope = slope;
  out.a = a;
  out.b = b;
  out.amplitudeB = amplitudeB;
  out.amplitudeA = ((amplitudeB / b + surface - b * generated) * (1 + e)) / e;
}

/** phi at a depth, g/cm2. */
export function phiAt(distribution: DepthDistribution, depth: number): number {
  const { surface, a, b, amplitudeA, amplitudeB } = distribution;
  return amplitudeA * exp(-a * depth) + (amplitudeB * depth + surface - amplitudeA) * exp(-b * depth);
}

/** F(chi) / F: the part of the generated photons that leaves; chi = (mu/rho) / sin(take-off), cm2/g. */
export function emergingFraction(distribution: DepthDistribution, chi: number): number {
  const { surface, generated, a, b, amplitudeA, amplitudeB } = distribution;
  const inverse = 1 / (b + chi);
  return ((surface + amplitudeB * inverse - (amplitudeA * (a - b)) / (a + chi)) * inverse) / generated;
}
