import { createEmission, type Emission } from '../emission/thick/characteristic.ts';
import { createFoilEmission, TRANSMISSION_FROM_EV } from '../emission/body/foil.ts';
import { memoise } from './memoise.ts';

export interface BeamConditions {
  readonly beamEv: number;
  readonly takeOffDeg: number;
}

/** Beams memoised: a session has one or two. */
const REMEMBERED = 8;

/**
 * Emission under a beam: of a thick specimen under a scanning microscope's, of a foil under a transmission microscope's.
 * Its tables depend on the beam alone, so it is kept.
 */
export const emissionUnder: (conditions: BeamConditions) => Emission = memoise(
  REMEMBERED,
  ({ beamEv, takeOffDeg }) => `${beamEv} ${takeOffDeg}`,
  ({ beamEv, takeOffDeg }) =>
    beamEv < TRANSMISSION_FROM_EV ? createEmission(beamEv, takeOffDeg) : createFoilEmission(beamEv, takeOffDeg),
);
