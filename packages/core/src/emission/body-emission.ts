import { LINE_TABLE } from '../atomic/lines.ts';
import { type Body, type Bulk, checkBody } from './body.ts';
import { createEmission, type EmissionOptions } from './characteristic.ts';

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
  const emission = createEmission(beamEv, takeOffDeg, options);
  const ofBulk = ({ composition }: Bulk): EmittedByBody => {
    const wanted = Uint8Array.from(composition, (fraction) => (fraction > 0 ? 1 : 0));
    return {
      lines: emission.lines(composition, wanted).map((photons, i) => photons * composition[LINE_TABLE.z[i]]),
      continuum: (energiesEv) => emission.continuum(composition, energiesEv),
    };
  };
  return {
    beamEv,
    takeOffDeg,
    of(body) {
      checkBody(body);
      if (body.kind === 'bulk') return ofBulk(body);
      throw new RangeError(`Bodies of kind ${body.kind} are not worked out yet.`);
    },
  };
}
