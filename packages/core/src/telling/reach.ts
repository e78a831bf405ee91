import type { MassFractions } from '../atomic/composition.ts';
import { symbolOf } from '../atomic/elements.ts';
import { type Line, linesOf } from '../atomic/lines.ts';
import type { Body, Layer as BodyLayer, Material as BodyMaterial } from '../emission/body/body.ts';
import { electronRangeUm, grainReach, type GrainReach } from '../emission/body/range.ts';
import { recordedDepthUm } from '../emission/body/recorded-volume.ts';
import { emittedLines } from '../emission/thick/characteristic.ts';
import { DEPTH_OF, LEAST_FRACTION } from './terms/cutoffs.ts';
import { lineName } from './terms/names.ts';
import { significant } from './terms/numerals.ts';
import { paragraph, section, type Tree } from './sections/tree.ts';

/**
 * What is worth knowing before a simulated spectrum is believed: the composition as it was understood, how far the beam's
 * electrons reach, and whether that is further than the film or grain goes.
 * @param film whether the last but one layer of a stack is a film, not a coat
 */
export function reachTree(body: Body, beamKev: number, takeOffDeg: number, film: boolean): Tree {
  const told = sentences(body, { kev: beamKev, takeOffDeg }, film).map((text, i) => paragraph(`reach-${i + 1}`, text));
  const nodes = [section('reach', 'Simulated, not measured: no evidence about any object.', told)];
  return { title: '', nodes: nodes.filter((node) => node !== null) };
}

interface Beam {
  readonly kev: number;
  readonly takeOffDeg: number;
}

function sentences(body: Body, beam: Beam, film: boolean): string[] {
  if (body.kind === 'grain') return ofGrain(body.grain, body.diameterUm, beam);
  if (body.kind === 'bulk') return ofThick(body.composition, beam);
  const layer = body.layers.at(film ? -2 : -1);
  if (layer === undefined) return [];
  return film ? ofFilm(layer, beam) : ofThick(layer.composition, beam);
}

function madeOf(composition: MassFractions): string {
  const parts = Array.from(composition, (fraction, z) => ({ fraction, z }))
    .filter(({ fraction }) => fraction > LEAST_FRACTION)
    .sort((a, b) => b.fraction - a.fraction)
    .map(({ fraction, z }) => `${symbolOf(z)} ${significant(100 * fraction, 3)}`);
  return `Composition, % by mass: ${parts.join(', ')}.`;
}

/** A length in µm at 1 g/cm3 is this many mg/cm2. */
const MG_PER_CM2 = 0.1;
const AFTER = '(after Kanaya and Okayama)';

function ofThick(composition: MassFractions, beam: Beam): string[] {
  const range = electronRangeUm(composition, 1, beam.kev * 1000);
  const reach = `Electrons of ${beam.kev} keV reach ${significant(MG_PER_CM2 * range, 2)} mg/cm2 into the material ${AFTER}`;
  const depths = recorded({ composition, densityGPerCm3: 1 }, beam, MG_PER_CM2, 'mg/cm2');
  return [madeOf(composition), `${reach}. ${depths} Multiply by ten and divide by the density in g/cm3 for µm.`];
}

function ofFilm({ composition, massThickness }: BodyLayer, beam: Beam): string[] {
  const thickness = (1000 * massThickness) / MG_PER_CM2;
  // As in a grain that is as deep as the film.
  const reach = grainReach({ composition, densityGPerCm3: 1 }, 2 * thickness, beam.kev * 1000);
  const range = `${significant(MG_PER_CM2 * reach.electronRangeUm, 2)} mg/cm2 into the film's material ${AFTER}`;
  const has = `the film has ${significant(MG_PER_CM2 * thickness, 2)}`;
  return [madeOf(composition), `Electrons of ${beam.kev} keV reach ${range}; ${has}: ${staying(reach)}`];
}

function ofGrain(grain: BodyMaterial, diameterUm: number, beam: Beam): string[] {
  const reach = grainReach(grain, diameterUm, beam.kev * 1000);
  const range = `${significant(reach.electronRangeUm, 2)} µm into the grain's material ${AFTER}`;
  const has = `the cut grain is ${significant(diameterUm / 2, 2)} µm deep`;
  const first = `Electrons of ${beam.kev} keV reach ${range}; ${has}: ${staying(reach)}`;
  return [madeOf(grain.composition), `${first} ${recorded(grain, beam, 1, 'µm')}`];
}

/** From how deep the strongest line of each main element comes. @param unit with `factor`, what a µm is told as */
function recorded(material: BodyMaterial, beam: Beam, factor: number, unit: string): string {
  const emitted = emittedLines(material.composition, beam.kev * 1000, beam.takeOffDeg);
  const lines = Array.from(material.composition, (fraction, z) => ({ fraction, z }))
    .filter(({ fraction }) => fraction > DEPTH_OF.leastFraction)
    .sort((a, b) => b.fraction - a.fraction)
    .flatMap(({ z }) => strongest(emitted, z) ?? [])
    .slice(0, DEPTH_OF.most);
  if (lines.length === 0) return '';
  const depths = lines.map(({ symbol, iupac, siegbahn, index }) => {
    const depth = recordedDepthUm(material, beam.kev * 1000, beam.takeOffDeg, index, 0.99);
    return `${symbol}\u00a0${lineName({ line: iupac, siegbahn })} ${significant(factor * depth, 2)}`;
  });
  return `Depths above which 99 % of the recorded photons originate, ${unit}: ${depths.join(', ')}.`;
}

/** The line of an element that most photons have. */
function strongest(emitted: Float64Array, z: number): Line | undefined {
  const photons = ({ index }: Line): number => emitted.at(index) ?? 0;
  return linesOf(z)
    .filter((line) => photons(line) > 0)
    .sort((a, b) => photons(b) - photons(a))
    .at(0);
}

function staying({ inside, highestBeamKev }: GrainReach): string {
  if (inside) return 'they stay inside.';
  return `some leave it, so what lies behind shows too. At ${significant(highestBeamKev, 2)} keV they would stay inside.`;
}
