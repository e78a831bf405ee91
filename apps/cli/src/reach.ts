import {
  type Body,
  type BodyMaterial,
  electronRangeUm,
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

/** Range in mg/cm2: what it is in a material of 1 g/cm3, in tenths of um. */
const rangeMgPerCm2 = (composition: MassFractions, beamKev: number): number =>
  electronRangeUm(composition, 1, beamKev * 1000) / 10;

function ofThick(composition: MassFractions, beamKev: number): string[] {
  const range = rangeMgPerCm2(composition, beamKev);
  const reach = `Electrons of ${beamKev} keV reach ${significant(range, 2)} mg/cm2 into it (after Kanaya and Okayama)`;
  return [madeOf(composition), `${reach}: ${significant(10 * range, 2)} um over its density in g/cm3.`];
}

function ofFilm({ composition, massThickness }: BodyLayer, beamKev: number): string[] {
  const there = massThickness * 1000;
  const range = rangeMgPerCm2(composition, beamKev);
  const reach = `Electrons of ${beamKev} keV reach ${significant(range, 2)} mg/cm2 into the film's material (after Kanaya and Okayama)`;
  const has = `the film has ${significant(there, 2)}`;
  if (range <= there) return [madeOf(composition), `${reach}; ${has}: they stay inside.`];
  return [madeOf(composition), `${reach}; ${has}: ${wouldStay(beamKev, range, there)}`];
}

function ofGrain({ composition, densityGPerCm3 }: BodyMaterial, diameterUm: number, beamKev: number): string[] {
  const range = electronRangeUm(composition, densityGPerCm3, beamKev * 1000);
  const reach = `Electrons of ${beamKev} keV reach ${significant(range, 2)} um into the grain's material (after Kanaya and Okayama)`;
  const has = `the cut grain is ${significant(diameterUm / 2, 2)} um deep`;
  const stay = range <= diameterUm / 2 ? 'they stay inside.' : wouldStay(beamKev, range, diameterUm / 2);
  return [madeOf(composition), `${reach}; ${has}: ${stay}`];
}

/** Power of the beam energy in the range formula. */
const EXPONENT = 1.67;

function wouldStay(beamKev: number, range: number, there: number): string {
  const kev = beamKev * (there / range) ** (1 / EXPONENT);
  return `some leave it, and what is behind shows as well. At ${significant(kev, 2)} keV they would stay inside.`;
}
