import { CellError, listIn, oneOf } from './material-cells.ts';
import {
  BIREFRINGENCES,
  COLOURS,
  ISOTROPIES,
  MICROCHEMICAL_OUTCOMES,
  OPACITIES,
  PLEOCHROISMS,
  SHAPES,
  UV_RESPONSES,
} from './optics-words.ts';

/** From the lowest to the highest value met; the two may be equal. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** A band of a Raman or infrared spectrum. */
export interface Band {
  /** Shift or wavenumber, cm-1. */
  readonly cm1: number;
  /** One of the strongest of its spectrum. */
  readonly strongest: boolean;
}

/** How the value of each property is read. Lists have the most usual word first. */
export const OPTICS_READERS = {
  colour: someOf(COLOURS),
  opacity: someOf(OPACITIES),
  size_um: rangeIn(0.001, 10_000),
  shape: someOf(SHAPES),
  refractive_index: rangeIn(1.2, 4),
  isotropy: someOf(ISOTROPIES),
  birefringence: oneOf(BIREFRINGENCES),
  pleochroism: oneOf(PLEOCHROISMS),
  uv: someOf(UV_RESPONSES),
  microchemistry: someOf(MICROCHEMICAL_OUTCOMES),
  raman_cm1: bandsIn(50, 4000),
  infrared_cm1: bandsIn(400, 4000),
  diffraction: phasesIn,
} as const;

/** 'blue; green': words of a closed list, each once. @throws CellError */
function someOf<Word extends string>(words: readonly Word[]): (cell: string) => readonly Word[] {
  const one = oneOf(words);
  return (cell) => unique(listIn(cell)).map(one);
}

/** '0.5 to 20'. @throws CellError */
function rangeIn(least: number, most: number): (cell: string) => Range {
  return (cell) => {
    const match = /^(\d+(?:\.\d+)?) to (\d+(?:\.\d+)?)$/.exec(cell);
    if (match === null) throw new CellError(`'${cell}' is not a range; write it like 0.5 to 20`);
    const [low, high] = [Number(match[1]), Number(match[2])];
    if (low > high) throw new CellError(`'${cell}' runs downwards; put the lower value first`);
    if (low < least || high > most) throw new CellError(`'${cell}' is not within ${least} to ${most}; check the unit`);
    return { low, high };
  };
}

/** '403*; 1098': ascending, in cm-1, an asterisk behind the strongest. @throws CellError */
function bandsIn(least: number, most: number): (cell: string) => readonly Band[] {
  return (cell) => {
    const bands = unique(listIn(cell)).map((part) => {
      if (!/^\d+\*?$/.test(part))
        throw new CellError(`'${part}' is not a band; write whole numbers of cm-1 like 403*; 1098`);
      const cm1 = parseInt(part, 10);
      if (cm1 < least || cm1 > most)
        throw new CellError(`${cm1} is not within ${least} to ${most} cm-1; check the unit`);
      return { cm1, strongest: part.endsWith('*') };
    });
    const before = bands.find(({ cm1 }, at) => at > 0 && bands[at - 1].cm1 >= cm1);
    if (before !== undefined) throw new CellError(`${before.cm1} follows a higher band; put the lower one first`);
    return bands;
  };
}

/** 'hydrocerussite; cerussite': names of phases, the usual one first. @throws CellError */
function phasesIn(cell: string): readonly string[] {
  return unique(listIn(cell)).map((phase) => {
    if (/^[a-z][a-z -]*$/.test(phase)) return phase;
    throw new CellError(
      `'${phase}' is not the name of a phase; write lower-case letters, like hydrocerussite; cerussite`,
    );
  });
}

function unique(parts: readonly string[]): readonly string[] {
  if (parts.length === 0) throw new CellError('it is empty; leave the whole row out where nothing is known');
  const twice = parts.find((part, at) => parts.indexOf(part) < at);
  if (twice !== undefined) throw new CellError(`'${twice}' is there twice; keep one`);
  return parts;
}
