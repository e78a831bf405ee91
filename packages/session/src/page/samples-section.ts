import {
  grainName,
  grainRowId,
  grainSpectraKey,
  type GrainStep,
  type GrainTold,
  type Kinds,
  sampleSection,
} from '@limner/core';
import type { SampleSummary } from '../summary/layers.ts';
import { strays } from '../summary/strays.ts';
import { escape } from './report-parts.ts';
import { layerTold, numbered, stratigraphy } from './stratigraphy.ts';
import { treeHtml } from './tree-html.ts';

/** What the page of a sample shows of a grain besides its findings. */
export interface GrainShown {
  /** Address of the section on its spectrum. */
  readonly link: string;
  readonly steps: readonly GrainStep[];
  /** Its spectrum, small, as HTML. */
  readonly picture: string;
}
export type ShownOf = (file: string) => GrainShown;

/** A page of the report per sample. */
export const samplesHtml = (samples: readonly SampleSummary[], kinds: Kinds, shownOf: ShownOf): string =>
  samples.map((sample) => sampleHtml(sample, kinds, shownOf)).join('\n');

function sampleHtml(summary: SampleSummary, kinds: Kinds, shownOf: ShownOf): string {
  const { sample, layers } = summary;
  const grains = grainsTold(summary, shownOf);
  const told = sampleSection({
    sample,
    layers: layers.filter(({ layer }) => layer !== null).map(layerTold),
    grains,
    questions: layers.flatMap((layer) =>
      layer.grains.flatMap(({ file, found }) => found.questions.map((question) => ({ file, question }))),
    ),
    strays: strays(summary, kinds),
  });
  const links = new Map(grains.map(({ file }) => [grainRowId(file), shownOf(file).link]));
  const html = treeHtml([told], 'session', {
    level: 2,
    hrefOf: (rowId) => links.get(rowId),
    drawn: ({ figure, caption }) =>
      figure === 'layers' ? stratigraphy(summary, caption) : grainSpectra(summary, shownOf, caption),
  });
  return `<section class="sample">${html}</section>`;
}

const grainsTold = (sample: SampleSummary, shownOf: ShownOf): GrainTold[] =>
  numbered(sample).map(({ grain: { file, place, found }, number }) => ({
    number,
    file,
    layer: place.layer,
    particle: place.particle,
    present: found.present,
    open: found.open,
    best: found.best,
    year: found.dating?.year ?? null,
    note: place.note,
    steps: shownOf(file).steps,
  }));

/** Small spectra of a sample: more would be pages of them. */
const MOST_SPECTRA = 24;

/** The grains' spectra in the order of their table, each with its number, its name and what is present. */
function grainSpectra(summary: SampleSummary, shownOf: ShownOf, caption: string): string {
  const all = numbered(summary);
  const drawn = all.slice(0, MOST_SPECTRA).map(({ grain, number }) => {
    const { link, picture } = shownOf(grain.file);
    return `<figure>${picture}<figcaption><a href="${escape(link)}">${escape(grainName({ number, file: grain.file, particle: grain.place.particle }))}</a> ${escape(grain.found.present.join(' '))}</figcaption></figure>`;
  });
  const key = grainSpectraKey(all.length - drawn.length);
  return `<div class="sketches" role="group" aria-label="${escape(caption)}">${drawn.join('')}</div><p class="quiet">${escape(key)}</p>`;
}
