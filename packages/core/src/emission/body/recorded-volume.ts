import { sin } from '../../arithmetic/angle.ts';
import { expm1 } from '../../arithmetic/exponential.ts';
import { matrixAttenuation } from '../../atomic/attenuation.ts';
import { LINE_TABLE } from '../../atomic/lines.ts';
import { edgeEv } from '../../atomic/shells.ts';
import { CM_PER_UM, type Material } from './body.ts';
import {
  crossSectionExponent,
  depthDistribution,
  type DepthDistribution,
  matrixMeans,
  phiAt,
} from '../thick/depth-distribution.ts';
import { emergingBetween } from '../thick/depth-interval.ts';
import { lateralSpread } from './lateral-spread.ts';
import { gaussLegendre } from './quadrature.ts';

/**
 * Depth, um, above which a part (0.9, 0.99) of a line's photons that reach the detector is born, in a thick specimen: from
 * phi(rho z) with absorption. 0 where the beam does not excite the line.
 * @param line row of LINE_TABLE; its element may be a trace
 */
export function recordedDepthUm(
  material: Material,
  beamEv: number,
  takeOffDeg: number,
  line: number,
  part: number,
): number {
  const depth = distributionOf(material, beamEv, line);
  if (depth === undefined) return 0;
  const attenuation = matrixAttenuation(material.composition, LINE_TABLE.energyEv[line]);
  const chi = attenuation / sin((takeOffDeg * Math.PI) / 180);
  const all = emergingBetween(depth, 0, Infinity, chi);
  const massDepth = rootOf((z) => emergingBetween(depth, 0, z, chi) / all - part, FARTHEST * depth.meanDepth);
  return massDepth / (material.densityGPerCm3 * CM_PER_UM);
}

/**
 * Diameter, um, of the circle around the beam that holds a part of a line's ionisations, whatever their depth (no absorption;
 * a beam of no width). 0 where the beam does not excite the line.
 */
export function ionisedWidthUm(material: Material, beamEv: number, line: number, part: number): number {
  const depth = distributionOf(material, beamEv, line);
  if (depth === undefined) return 0;
  const slices = DEPTHS.nodes.map((node, n) => {
    const x = FARTHEST * node * node;
    const weight = node * DEPTHS.weights[n] * Math.max(0, phiAt(depth, x * depth.meanDepth));
    return { weight, spread: lateralSpread(depth, x) };
  });
  const all = slices.reduce((sum, { weight }) => sum + weight, 0);
  const within = (radius: number): number =>
    slices.reduce(
      (sum, { weight, spread }) =>
        sum + weight * spread.reduce((inner, g) => inner - g.weight * expm1(-0.5 * (radius / g.width) ** 2), 0),
      0,
    ) / all;
  const radius = rootOf((r) => within(r) - part, FARTHEST);
  return (2 * radius * depth.meanDepth) / (material.densityGPerCm3 * CM_PER_UM);
}

/** Nothing lies farther, in mean depths of ionisation. */
const FARTHEST = 8;
const DEPTHS = gaussLegendre(24);

function distributionOf({ composition }: Material, beamEv: number, line: number): DepthDistribution | undefined {
  const [z, s] = [LINE_TABLE.z[line], LINE_TABLE.subshell[line]];
  const edge = edgeEv(z, s);
  if (!(edge < beamEv)) return undefined;
  return depthDistribution(matrixMeans(composition), beamEv / 1000, edge / 1000, crossSectionExponent(z, s));
}

/** Where a rising function passes 0 between 0 and `end`, by bisection. */
function rootOf(rising: (x: number) => number, end: number): number {
  let [low, high] = [0, end];
  for (let step = 0; step < 60; step++) {
    const middle = 0.5 * (low + high);
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}
