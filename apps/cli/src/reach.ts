import {
  type Body,
  type BodyMaterial,
  electronRangeUm,
  grainReach,
  type GrainReach,
  type BodyLayer,
  type MassFractions,
  significant,
  symbolOf,
  wrap,
} from '@limner/core';

/**
 * What is worth knowing before a simulated spectrum is believed: the composition as it was understood, how far the beam's
 * electrons reach, and whether that is further than the film or grain goes.
 * @param film whether the last but one layer of a stack is a film, not a coat
 */
export function reachOf(body: Body, beamKev: number, film: boolean): string[] {
  const told = 'Simulated, not measured: no evidence about any object.';
  return [told, ...sentences(body, beamKev, film)].flatMap((sentence) => wrap(sentence));
}

function sentences(body: Body, beamKev: number, film: boolean): string[] {
  if (body.kind === 'grain') return ofGrain(body.grain, body.diameterUm, beamKev);
  if (body.kind === 'bulk') return ofThick(body.composition, beamKev);
  const layer = body.layers.at(film ? -2 : -1);
  if (layer === undefined) return [];
  return film ? ofFilm(layer, beamKev) : ofThick(layer.composition, beamKev);
}

/** Parts of the mass below this are not worth a word. */
const LEAST_FRACTION = 0.0005;

function madeOf(composition: MassFractions): string {
  const parts = Array.from(composition, (fraction, z) => ({ fraction, z }))
    .filter(({ fraction }) => fraction > LEAST_FRACTION)
    .sort((a, b) => b.fraction - a.fraction)
    .map(({ fraction, z }) => `${symbolOf(z)} ${significant(100 * fraction, 3)}`);
  return `Composition, % by mass: ${parts.join(', ')}.`;
}

/** A length in um at 1 g/cm3 is this many mg/cm2. */
const MG_PER_CM2 = 0.1;
const AFTER = '(after Kanaya and Okayama)';

function ofThick(composition: MassFractions, beamKev: number): string[] {
  const range = electronRangeUm(composition, 1, beamKev * 1000);
  const reach = `Electrons of ${beamKev} keV reach ${significant(MG_PER_CM2 * range, 2)} mg/cm2 into it ${AFTER}`;
  return [madeOf(composition), `${reach}: ${significant(range, 2)} um over its density in g/cm3.`];
}

function ofFilm({ composition, massThickness }: BodyLayer, beamKev: number): string[] {
  const thickness = (1000 * massThickness) / MG_PER_CM2;
  // As in a grain that is as deep as the film.
  const reach = grainReach({ composition, densityGPerCm3: 1 }, 2 * thickness, beamKev * 1000);
  const range = `${significant(MG_PER_CM2 * reach.electronRangeUm, 2)} mg/cm2 into the film's material ${AFTER}`;
  const has = `the film has ${significant(MG_PER_CM2 * thickness, 2)}`;
  return [madeOf(composition), `Electrons of ${beamKev} keV reach ${range}; ${has}: ${staying(reach)}`];
}

function ofGrain(grain: BodyMaterial, diameterUm: number, beamKev: number): string[] {
  const reach = grainReach(grain, diameterUm, beamKev * 1000);
  const range = `${significant(reach.electronRangeUm, 2)} um into the grain's material ${AFTER}`;
  const has = `the cut grain is ${significant(diameterUm / 2, 2)} um deep`;
  return [madeOf(grain.composition), `Electrons of ${beamKev} keV reach ${range}; ${has}: ${staying(reach)}`];
}

function staying({ inside, highestBeamKev }: GrainReach): string {
  if (inside) return 'they stay inside.';
  return `some leave it, and what is behind shows as well. At ${significant(highestBeamKev, 2)} keV they would stay inside.`;
}
