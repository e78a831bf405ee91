import { sin } from '../../arithmetic/angle.ts';
import { LINE_TABLE } from '../../atomic/lines.ts';
import type { Arrangement } from './arrangement.ts';
import { createBodyContinuum } from './body-continuum.ts';
import { bodyLines } from './body-lines.ts';
import { type Body, type Bulk, checkBody, type Grain, type Layer, type Stack } from './body.ts';
import { createEmission, type EmissionOptions } from '../thick/characteristic.ts';
import { type BodyBeam, createMatter } from './matter.ts';
import { createSlowingDown } from '../electrons/slowing-down.ts';
import { grainArrangement } from './particle.ts';
import { stackArrangement } from './stack.ts';

/** What leaves a body towards the detector. */
export interface EmittedByBody {
  /** Photons per beam electron and steradian, for every line of LINE_TABLE, all parts of the body together. */
  readonly lines: Float64Array;
  /** Continuum photons per beam electron, steradian and eV, at ascending energies. */
  continuum(energiesEv: Float64Array): Float64Array;
}

/** Emission of bodies under one beam at normal incidence and one take-off angle. */
export interface BodyEmission {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  /** @throws RangeError where the body makes no sense */
  of(body: Body): EmittedByBody;
}

/**
 * Emission under one beam energy and take-off angle. Make one and use it for many bodies: tables that depend on the beam
 * alone are kept.
 * @throws RangeError for a beam of 0 or less or an angle outside 0 to 90 degrees
 */
export function createBodyEmission(beamEv: number, takeOffDeg: number, options: EmissionOptions = {}): BodyEmission {
  const beam: BodyBeam = {
    emission: createEmission(beamEv, takeOffDeg, options),
    slowing: createSlowingDown(beamEv),
    pathFactor: (options.attenuation ?? 1) / sin((takeOffDeg * Math.PI) / 180),
  };
  const continuum = createBodyContinuum(beam);
  return {
    beamEv,
    takeOffDeg,
    of(body) {
      checkBody(body);
      if (body.kind === 'bulk') return emittedByBulk(body, beam);
      const arrangement = arrange(body, beam);
      return { lines: bodyLines(arrangement), continuum: (energiesEv) => continuum(arrangement, energiesEv) };
    },
  };
}

function emittedByBulk({ composition }: Bulk, { emission }: BodyBeam): EmittedByBody {
  const wanted = Uint8Array.from(composition, (fraction) => (fraction > 0 ? 1 : 0));
  return {
    lines: emission.lines(composition, wanted).map((photons, i) => photons * composition[LINE_TABLE.z[i]]),
    continuum: (energiesEv) => emission.continuum(composition, energiesEv),
  };
}

function arrange(body: Stack | Grain, beam: BodyBeam): Arrangement {
  const part = ({ composition, massThickness }: Layer) => ({
    matter: createMatter(composition, beam),
    massThickness,
  });
  if (body.kind === 'stack') return stackArrangement(joined(body.layers).map(part));
  const { grain, surrounding, diameterUm, centreDepthUm = 0 } = body;
  return grainArrangement({
    coats: joined(body.coats).map(part),
    grain: createMatter(grain.composition, beam),
    surrounding: createMatter(surrounding.composition, beam),
    grainDensity: grain.densityGPerCm3,
    surroundingDensity: surrounding.densityGPerCm3,
    sphere: { radius: diameterUm / 2, centre: centreDepthUm },
    takeOffDeg: beam.emission.takeOffDeg,
  });
}

/** Neighbouring layers of the same material as one, so that they share their fluorescence. */
function joined(layers: readonly Layer[]): Layer[] {
  const out: Layer[] = [];
  for (const layer of layers) {
    const before = out.at(-1);
    if (before?.composition.every((fraction, z) => fraction === layer.composition[z]))
      out[out.length - 1] = { ...layer, massThickness: before.massThickness + layer.massThickness };
    else out.push(layer);
  }
  return out;
}
