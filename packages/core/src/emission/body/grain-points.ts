import { cos, sin } from '../../arithmetic/angle.ts';
import { expm1, log1p } from '../../arithmetic/exponential.ts';
import { CM_PER_UM } from './body.ts';
import { type DepthDistribution, phiAt } from '../thick/depth-distribution.ts';
import { pathInSphere, sectionRadius, type Sphere } from './grain-geometry.ts';
import { lateralSpread } from './lateral-spread.ts';
import type { Seat } from './layer-seat.ts';
import { Points } from './points.ts';
import { gaussLegendre } from './quadrature.ts';

/** Where ionisations lie: along the beam, beyond the grain's edge at the same depth, and below the grain. */
export interface GrainCloud {
  readonly inside: Points;
  readonly beside: Points;
  readonly below: Points;
}

/** What a grain and its surrounding are for one edge. */
export interface Zone {
  /** phi(rho z) of the material when thick, and the seat in it. */
  readonly thick: DepthDistribution;
  readonly seat: Seat;
  readonly density: number;
}

/** Depths along the beam, and per depth two distances from the axis for each Gaussian, three directions around it. */
const DEPTHS = gaussLegendre(14);
const RINGS = gaussLegendre(2);
const DIRECTIONS = [1, 3, 5].map((k) => (k * Math.PI) / 6);
/** Nothing lies deeper, in mean depths of ionisation. */
const DEEPEST = 6;
/** A grain less deep than an atom is none, um. */
const LEAST_UM = 1e-5;

export function placePoints(sphere: Sphere, takeOffDeg: number, grain: Zone, surrounding: Zone): GrainCloud {
  const cloud: GrainCloud = { inside: new Points(), beside: new Points(), below: new Points() };
  const [sine, cosine] = [sin((takeOffDeg * Math.PI) / 180), cos((takeOffDeg * Math.PI) / 180)];
  const place = (points: Points, weight: number, ring: (part: number) => number, z: number): void => {
    RINGS.nodes.forEach((node, n) => {
      const r = ring(node);
      for (const direction of DIRECTIONS) {
        const inGrain = pathInSphere(sphere, r * cos(direction), r * sin(direction), z, sine, cosine);
        points.add(
          (weight * RINGS.weights[n]) / DIRECTIONS.length,
          inGrain * grain.density * sine * CM_PER_UM,
          Math.max(0, z - inGrain * sine) * surrounding.density * CM_PER_UM,
        );
      }
    });
  };
  if (sphere.centre + sphere.radius > LEAST_UM) placeAtGrain(cloud, place, sphere, grain, surrounding);
  placeBelow(cloud.below, place, sphere, grain, surrounding);
  return cloud;
}

type Place = (points: Points, weight: number, ring: (part: number) => number, z: number) => void;

interface Slice {
  /** Depth in the zone, um and g/cm2; thickness, g/cm2; phi times thickness. */
  readonly z: number;
  readonly massDepth: number;
  readonly width: number;
  readonly weight: number;
}

/** Slices of a zone down to `length` um, closer together near 0; phi counts where it is not negative. */
function depths(length: number, { thick, seat, density }: Zone): Slice[] {
  const perUm = density * CM_PER_UM;
  const end = Math.min(length, (DEEPEST * thick.meanDepth) / perUm);
  return DEPTHS.nodes.map((node, n) => {
    const z = end * node * node;
    const width = 2 * end * node * DEPTHS.weights[n] * perUm;
    return {
      z,
      massDepth: z * perUm,
      width,
      weight: width * seat.factor * Math.max(0, phiAt(thick, seat.from + z * perUm)),
    };
  });
}

function placeAtGrain(cloud: GrainCloud, place: Place, sphere: Sphere, grain: Zone, surrounding: Zone): void {
  const length = sphere.centre + sphere.radius;
  const { thick, seat, density } = grain;
  const unit = thick.meanDepth / (density * CM_PER_UM);
  const whole = length * density * CM_PER_UM;
  const stretch = density / surrounding.density;
  for (const { z, massDepth, width, weight } of depths(length, grain)) {
    const edge = sectionRadius(sphere, z);
    cloud.inside.addFlat(weight, massDepth);
    // Beside, the surrounding's own phi, seated between the coats above the grain and its seat below the grain.
    const depth = seat.from + (surrounding.seat.from - seat.from) * (massDepth / whole);
    const other = width * Math.max(0, phiAt(surrounding.thick, depth));
    for (const spread of lateralSpread(thick, massDepth / thick.meanDepth)) {
      const twoVariances = 2 * (spread.width * unit) ** 2;
      const within = -expm1(-(edge * edge) / twoVariances);
      place(
        cloud.inside,
        weight * spread.weight * within,
        (part) => Math.sqrt(-twoVariances * log1p(-part * within)),
        z,
      );
      place(
        cloud.beside,
        other * spread.weight * (1 - within),
        (part) => edge + stretch * (Math.sqrt(edge * edge - twoVariances * log1p(-part)) - edge),
        z * Math.max(1, stretch),
      );
    }
  }
}

/** Below the grain the spread goes on in the surrounding's own measure. */
function placeBelow(points: Points, place: Place, sphere: Sphere, grain: Zone, surrounding: Zone): void {
  const length = Math.max(0, sphere.centre + sphere.radius);
  const start = (length * grain.density * CM_PER_UM) / grain.thick.meanDepth;
  const { thick, density } = surrounding;
  const [grainUnit, unit] = [
    grain.thick.meanDepth / (grain.density * CM_PER_UM),
    thick.meanDepth / (density * CM_PER_UM),
  ];
  const atEnd = lateralSpread(grain.thick, start).map(({ width }) => width * grainUnit);
  const before = lateralSpread(thick, start).map(({ width }) => width * unit);
  for (const { z, massDepth, weight } of depths(Infinity, surrounding)) {
    points.addFlat(weight, massDepth);
    lateralSpread(thick, start + massDepth / thick.meanDepth).forEach((spread, k) => {
      const width = atEnd[k] + Math.max(0, spread.width * unit - before[k]);
      place(points, weight * spread.weight, (part) => width * Math.sqrt(-2 * log1p(-part)), length + z);
    });
  }
}
