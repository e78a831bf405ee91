import { emittedLines, linesOf, massFractionsOf, readingOf, readingTree, readSpectrum, zOf } from '@limner/core';
import type { Answer, Question } from './reader.ts';
import type { MarkedLine, ReadingView } from './reading.ts';

/** Lines weaker than this part of the strongest of their shell are not marked. */
const FAINTEST = 0.01;
/** A common take-off angle; the order of the lines hardly depends on it. */
const TAKE_OFF_DEG = 35;

/** Reads opened files beside the page, so that it stays responsive; the bytes never leave the browser. */
self.addEventListener('message', (event: MessageEvent<Question>) => {
  const { ticket, ask } = event.data;
  let answer: Answer;
  try {
    const value = ask.kind === 'read' ? readOpened(ask) : linesToMark(ask.symbol, ask.beamKev);
    answer = { ticket, ok: true, value };
  } catch (error) {
    answer = { ticket, ok: false, message: error instanceof Error ? error.message : String(error) };
  }
  self.postMessage(answer);
});

function readOpened({ bytes, name, given }: Extract<Question['ask'], { kind: 'read' }>): ReadingView {
  const reading = readingOf(readSpectrum(bytes, { name, ...given }), given);
  return { ...reading, tree: readingTree(reading.record) };
}

/** Lines as the pure element would emit them under this beam, so that the strong ones are marked first. */
function linesToMark(symbol: string, beamKev: number): MarkedLine[] {
  const z = zOf(symbol);
  if (z === undefined) throw new Error(`No element has the symbol ${symbol}.`);
  const photons = emittedLines(massFractionsOf(symbol), 1000 * beamKev, TAKE_OFF_DEG);
  const lines = linesOf(z).map((line) => ({ ...line, shell: line.iupac.charAt(0), photons: photons[line.index] }));
  const strongest = (shell: string) =>
    Math.max(...lines.filter((line) => line.shell === shell).map((line) => line.photons));
  return lines
    .map((line) => ({ ...line, strength: line.photons / strongest(line.shell) }))
    .filter(({ strength }) => strength >= FAINTEST)
    .map(({ iupac, siegbahn, energyEv, strength }) => ({ line: iupac, siegbahn, energyEv, strength }));
}
