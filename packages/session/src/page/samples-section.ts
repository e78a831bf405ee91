import { grainRowId, type GrainTold, type Kinds, sampleSection } from '@limner/core';
import type { SampleSummary } from '../summary/layers.ts';
import { strays } from '../summary/strays.ts';
import { layerTold, numbered, stratigraphy } from './stratigraphy.ts';
import { treeHtml } from './tree-html.ts';

/** Address of the section on a spectrum. */
export type LinkTo = (file: string) => string | undefined;

/** A page of the report per sample. */
export const samplesHtml = (samples: readonly SampleSummary[], kinds: Kinds, linkTo: LinkTo): string =>
  samples.map((sample) => sampleHtml(sample, kinds, linkTo)).join('\n');

function sampleHtml(summary: SampleSummary, kinds: Kinds, linkTo: LinkTo): string {
  const { sample, layers } = summary;
  const grains = grainsTold(summary);
  const told = sampleSection({
    sample,
    layers: layers.filter(({ layer }) => layer !== null).map(layerTold),
    grains,
    questions: layers.flatMap((layer) =>
      layer.grains.flatMap(({ file, found }) => found.questions.map((question) => ({ file, question }))),
    ),
    strays: strays(summary, kinds),
  });
  const links = new Map(grains.map(({ file }) => [grainRowId(file), linkTo(file)]));
  const html = treeHtml([told], 'session', {
    level: 2,
    hrefOf: (rowId) => links.get(rowId),
    drawn: ({ caption }) => stratigraphy(summary, caption),
  });
  return `<section class="sample">${html}</section>`;
}

const grainsTold = (sample: SampleSummary): GrainTold[] =>
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
  }));
