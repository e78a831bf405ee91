// Words beside and inside pictures: captions, what a screen reader says, and what a place in the figure holds.

import { linesNear } from '../atomic/lines.ts';
import type { PlannedSpectrum } from '../record/planned-spectrum.ts';
import type { LimnerRecord } from '../record/record.ts';
import { FIGURE_SHARE, LEAST_CURSOR_LINE, MOST_CURSOR_LINES } from './terms/cutoffs.ts';
import { artefactName, insteadText, lineName } from './terms/names.ts';
import { counts, fixed, keV, listed, percent } from './terms/numerals.ts';

/** What the figure of a spectrum is, for those who cannot see it. */
export const SPECTRUM_LABEL =
  'Spectrum: measured counts against energy, with the fit, the background and the layer of each element. ' +
  'Arrow keys move along the energy axis, with Shift they move the cursor; plus and minus zoom, 0 shows the whole spectrum.';

/** @param counts, fit what the two lines look like */
const captionWith = (counts: string, fit: string): string =>
  `${counts} line: measured counts. ${fit} line: the fit, which is the sum of the background (grey, dotted edge) and one layer per element; ` +
  'layers with a dashed edge belong to elements that are open, dotted ones to an element that shares its colour with a stronger one, hatched ones ' +
  'to the detector; a question mark stands over a peak that nothing explains. The strip below shows measured minus fit, in standard deviations. ' +
  'On the square-root scale, counting noise has the same width everywhere.';

/** How to read the figure of a spectrum. */
export const SPECTRUM_CAPTION = captionWith('Thin', 'Red');
/** The same for a figure in greys. */
export const GREY_CAPTION = captionWith('Grey', 'Black');

/** How to zoom in it. */
export const SPECTRUM_HINT = 'Drag across the figure to zoom in; double-click to see the whole.';

/** Where the figure tells what is under the cursor, before there is one. */
export const CURSOR_HINT =
  'Point at the figure, or step through it with Shift and the arrow keys, to see here the energy, the counts, the share of each element and the lines that could be there.';

/** How to read the small pictures of lines, once for all. */
export const THUMBNAIL_KEY =
  'The small pictures show the measured counts (dots), the fit (red line), the best fit without the element, with everything else fitted again ' +
  '(dashed line), and the fit with its best rival in its place (thin line). The coloured area is what needs the element. A picture without a base ' +
  'line does not start at zero.';

/** What a small picture of a line shows, for those who cannot see it. @param name of the element */
export function thumbnailLabel(
  energyEv: number,
  { seen, withIt, without, refitted }: ThumbnailCounts,
  name: string,
): string {
  const less = refitted ? `${counts(without)} in the best fit without it` : `${counts(without)} without its share`;
  return `Around ${keV(energyEv)}: ${counts(seen)} counts measured, ${counts(withIt)} expected with ${name}, ${less}.`;
}

/** Counts in the channels of a small picture. */
export interface ThumbnailCounts {
  readonly seen: number;
  readonly withIt: number;
  readonly without: number;
  /** Whether all else was fitted again without the element, or its layer was merely taken away. */
  readonly refitted: boolean;
}

/** One channel: what was counted, what the fit says, and which parts make it up. */
export interface ChannelTold {
  readonly counted: number;
  /** 0 outside the fit. */
  readonly model: number;
  readonly parts: readonly { readonly name: string; readonly counts: number }[];
}

/** The counts of a channel, and the parts that make up a good share of it, largest first: one line each. */
export function channelText({ counted, model, parts }: ChannelTold): string[] {
  if (!(model > 0)) return [`${counts(counted)} counts, outside the fitted range`];
  const carried = parts
    .map((part) => ({ name: part.name, share: part.counts / model }))
    .filter(({ share }) => share >= FIGURE_SHARE)
    .sort((a, b) => b.share - a.share)
    .map(({ name, share }) => `${artefactName(name)} ${percent(share)}`);
  return [`${counts(counted)} counts, fit ${counts(model)}`, carried.join(', ')];
}

/**
 * Lines that could be at an energy: those of the elements in the fit first, then by their strength in their shell.
 * @param inFit symbols
 */
export function linesHereText(energyEv: number, withinEv: number, inFit: readonly string[]): string {
  const rank = (symbol: string): number => (inFit.includes(symbol) ? 0 : 1);
  const near = linesNear(energyEv, withinEv)
    .filter(({ relative, symbol }) => relative >= LEAST_CURSOR_LINE || rank(symbol) === 0)
    .sort((a, b) => rank(a.symbol) - rank(b.symbol) || b.relative - a.relative)
    .slice(0, MOST_CURSOR_LINES);
  if (near.length === 0) return '';
  return `Lines that could be here: ${listed(near.map(({ symbol, iupac: line, siegbahn }) => `${symbol}\u00a0${lineName({ line, siegbahn })}`))}.`;
}

/** How lines over the figure are told apart, in the order in which they are laid over it. */
const OVERLAY_LINES = ['Dotted', 'Dash-dotted', 'Long-dashed', 'Long dash-dotted'] as const;

/** What a spectrum that is laid over another is called beside the figure. @param i its place among OVERLAY_LINES @param to what it is scaled to */
export const overlayText = (i: number, name: string, to: string): string =>
  `${OVERLAY_LINES[i % OVERLAY_LINES.length]} line: ${name}, scaled to ${to}.`;

/** A measurement that a plan proposes, under one of the two explanations. */
export function plannedName(
  {
    question: { symbol, also, instead },
    proposal: { beamKev, counts: many },
  }: Pick<PlannedSpectrum, 'question' | 'proposal'>,
  isThere: boolean,
): string {
  const asked = listed([symbol, ...also]);
  const side = isThere
    ? `with ${asked}`
    : instead.length > 0
      ? `with ${insteadText(instead)} in its place`
      : `without ${asked}`;
  return `planned at ${beamKev}\u00a0keV with ${counts(many)} counts, ${side}`;
}

/** Where a plan proposes no measurement. */
export const NOTHING_PLANNED = 'Nothing is open that another measurement would settle.';

/** What another explanation's curves are called beside the figure. */
export const alternativeText = (symbol: string, instead: string | null): string =>
  `Dashed line: the best fit without ${symbol}.` + (instead ? ` Thin line: with ${instead} in its place.` : '');

/** What an exported figure says below itself: what it shows, and where that came from. */
export function figureProvenance({ source, software, conditions }: LimnerRecord): string[] {
  const { beamKev, liveTimeS, totalCounts } = conditions;
  const live = liveTimeS === null ? '' : `, live time ${fixed(liveTimeS, 0)}\u00a0s`;
  return [
    `${source.title || source.name}: beam ${fixed(beamKev.value, 1)}\u00a0keV${live}, ${counts(totalCounts)} counts.`,
    `${source.name}, SHA-256 ${source.sha256}; Limner ${software.version}, atomic data ${software.atomicData}.`,
  ];
}
