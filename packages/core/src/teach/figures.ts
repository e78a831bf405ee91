import { zOf } from '../atomic/elements.ts';
import { linesOf } from '../atomic/lines.ts';
import { edgeEv, SUBSHELLS } from '../atomic/shells.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { fwhmEv } from '../detector/resolution.ts';
import { withResolution } from '../detector/resolution-statement.ts';
import { SILICON_K_ALPHA_EV } from '../detector/silicon-k.ts';
import { electronRangeUm } from '../emission/body/range.ts';
import { fixed, keV, percent, significant } from '../telling/terms/numerals.ts';
import { neededText, sigmaText } from '../telling/words/overlap.ts';
import { lineOf } from '../telling/terms/names.ts';
import type { BenchState } from './bench-state.ts';
import { type BenchAnswer, benchAnswer, benchCurves, benchNeeds } from './bench.ts';
import type { Lesson } from './lesson.ts';
import { LessonError } from './lesson-text.ts';
import { compositionOf, GRAIN_DENSITY } from './specimen.ts';

/**
 * Fills the places of a lesson's sentence with numbers of core, so that text and bench cannot disagree: '{{sigma start Mo}}'. What
 * there is: sigma STATE X (expected), needs STATE X, look STATE X, correlation STATE X, counts STATE FROM TO (keV), energy X LINE,
 * apart X LINE Y LINE, edge X SHELL, width EV FWHM, escape X LINE, sum X LINE Y LINE, range STATE, overvoltage BEAM X SHELL.
 * @throws LessonError for a place that makes no sense
 */
export function filled(lesson: Lesson, text: string, memory: FigureMemory = new Map()): string {
  return text.replace(/\{\{([^}]+)\}\}/g, (_, place: string) => {
    const [name = '', ...words] = place.trim().split(/\s+/);
    try {
      const make = FIGURES[name];
      if (make === undefined)
        throw new RangeError(`there is no figure '${name}'; there are ${Object.keys(FIGURES).join(', ')}`);
      return make(words, lesson, memory);
    } catch (error) {
      throw new LessonError(
        `Lesson ${lesson.id}: {{${place}}}: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  });
}

/** Answers of the bench that a lesson asks for more than once. */
export type FigureMemory = Map<string, BenchAnswer>;

type FigureMaker = (words: readonly string[], lesson: Lesson, memory: FigureMemory) => string;

const FIGURES: Readonly<Record<string, FigureMaker>> = {
  sigma: (words, lesson, memory) => sigmaText(answerOf(words, lesson, memory).sigma),
  needs: (words, lesson, memory) => {
    const answer = answerOf(words, lesson, memory);
    const needed = benchNeeds(outOf(words, lesson), answer);
    return neededText({ recorded: answer.recorded, ...needed }).replace(/\.$/, '');
  },
  look: (words, lesson, memory) => {
    const [line] = answerOf(words, lesson, memory).lines;
    return line === undefined ? 'no single line' : `${lineOf(line.symbol, line.line)} at ${keV(line.energyEv)}`;
  },
  correlation: (words, lesson, memory) => {
    const { entangled } = answerOf(words, lesson, memory);
    return entangled === null ? 'none worth telling' : `${fixed(entangled.correlation, 2)} with ${entangled.symbol}`;
  },
  counts: ([state = '', from = '', to = ''], lesson) => {
    const { counts, energyEv } = benchCurves({ ...stateOf(lesson, state), noise: false });
    return fixed(
      counts.reduce((sum, value, i) => (inside(energyEv[i], from, to) ? sum + value : sum), 0),
      0,
    );
  },
  energy: ([symbol = '', line = '']) => keV(energyOf(symbol, line)),
  apart: ([a = '', lineA = '', b = '', lineB = '']) =>
    `${fixed(Math.abs(energyOf(a, lineA) - energyOf(b, lineB)), 1)}\u00a0eV`,
  edge: ([symbol = '', shell = '']) => keV(edgeOf(symbol, shell)),
  width: ([ev = '', fwhm = '']) =>
    `${fixed(fwhmEv(withResolution(DEFAULT_DETECTOR, Number(fwhm)), Number(ev)), 0)}\u00a0eV`,
  escape: ([symbol = '', line = '']) => keV(energyOf(symbol, line) - SILICON_K_ALPHA_EV),
  sum: ([a = '', lineA = '', b = '', lineB = '']) => keV(energyOf(a, lineA) + energyOf(b, lineB)),
  range: ([state = ''], lesson) => {
    const { parts, beamKev } = stateOf(lesson, state);
    return `${significant(electronRangeUm(compositionOf(parts), GRAIN_DENSITY, 1000 * beamKev), 2)}\u00a0µm`;
  },
  overvoltage: ([beam = '', symbol = '', shell = '']) => significant((1000 * Number(beam)) / edgeOf(symbol, shell), 3),
  share: ([state = '', symbol = ''], lesson) => percent(compositionOf(stateOf(lesson, state).parts)[zFor(symbol)]),
};

const inside = (ev: number, from: string, to: string): boolean => ev >= 1000 * Number(from) && ev <= 1000 * Number(to);

function answerOf(words: readonly string[], lesson: Lesson, memory: FigureMemory): BenchAnswer {
  const key = words.join(' ');
  const known = memory.get(key) ?? benchAnswer(outOf(words, lesson));
  memory.set(key, known);
  return known;
}

/** A state of the lesson with an element taken out. */
const outOf = ([name = '', out = '']: readonly string[], lesson: Lesson): BenchState => ({
  ...stateOf(lesson, name),
  out,
});

function stateOf(lesson: Lesson, name: string): BenchState {
  const state = lesson.states.get(name);
  if (state === undefined) throw new RangeError(`there is no state '${name}'`);
  return state;
}

function zFor(symbol: string): number {
  const z = zOf(symbol);
  if (z === undefined) throw new RangeError(`'${symbol}' is not an element symbol`);
  return z;
}

function energyOf(symbol: string, name: string): number {
  const line = linesOf(zFor(symbol)).find(({ iupac }) => iupac === name);
  if (line === undefined) throw new RangeError(`${symbol} has no line ${name}`);
  return line.energyEv;
}

function edgeOf(symbol: string, shell: string): number {
  const s = (SUBSHELLS as readonly string[]).indexOf(shell);
  if (s < 0) throw new RangeError(`there is no shell '${shell}'`);
  return edgeEv(zFor(symbol), s);
}
