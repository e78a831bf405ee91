import { findingsWith, summary } from '@limner/core';
import { ledgerSection, peaksSection } from './sections/ledger.ts';
import { claimsSection } from './sections/claims.ts';
import { brightnessSection } from './sections/brightness.ts';
import { datingSection } from './sections/dating.ts';
import { h } from './dom.ts';
import { createFigure } from './figure/figure.ts';
import { answersNote, cautionsNote, conditionsLine, methodSection, warningsNote } from './sections/notes.ts';
import { coloursOf } from './palette.ts';
import { pigmentsSection } from './sections/pigments.ts';
import { ratiosSection } from './sections/ratios.ts';
import type { ReadingView } from './reading.ts';

export interface Article {
  readonly element: HTMLElement;
  /** Draws the figure, once the article stands in the page. */
  show(): Promise<void>;
  redraw(): void;
}

/** The reading of one spectrum, in the order in which it is argued. */
export function createArticle(reading: ReadingView): Article {
  const { record } = reading;
  const colours = coloursOf(
    [...findingsWith(record, 'present'), ...findingsWith(record, 'open')].map(({ symbol }) => symbol),
  );
  const figure = createFigure(reading, colours);
  const mark = async (symbol: string) => {
    figure.element.scrollIntoView({ block: 'nearest' });
    await figure.toggleMarks(symbol);
  };
  const element = h(
    'article',
    { class: 'reading' },
    h('p', { class: 'overline' }, conditionsLine(record)),
    h('h1', {}, record.source.title || record.source.name),
    h('p', { class: 'summary' }, summary(record)),
    warningsNote(record),
    answersNote(record),
    figure.element,
    claimsSection(reading, colours, mark),
    pigmentsSection(record),
    ratiosSection(record),
    brightnessSection(record),
    datingSection(record),
    peaksSection(record),
    ledgerSection(record),
    cautionsNote(record),
    methodSection(record),
  );
  return { element, show: figure.show, redraw: figure.redraw };
}
