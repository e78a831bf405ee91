import { datingLines, grainTable, type GrainTold, type Kinds, SAMPLE_WORDS, strayText } from '@limner/core';
import type { SampleSummary } from '../summary/layers.ts';
import { strays } from '../summary/strays.ts';
import { escape, listOf } from './report-parts.ts';
import { layerTold, numbered, stratigraphy } from './stratigraphy.ts';
import { treeHtml } from './tree-html.ts';

/** Address of the section on a spectrum. */
export type LinkTo = (file: string) => string | undefined;

/** A page of the report per sample: its layers as a figure, its grains as a table, the date, and what is worth a second look. */
export function samplesSection(samples: readonly SampleSummary[], kinds: Kinds, linkTo: LinkTo): string {
  return samples.map((sample) => samplePart(sample, kinds, linkTo)).join('\n');
}

function samplePart(sample: SampleSummary, kinds: Kinds, linkTo: LinkTo): string {
  const { layers } = sample;
  const odd = layers.flatMap(({ layer, odd: its }) => its.map(({ file }) => `${file}, layer ${layer}`));
  const questions = layers.flatMap(({ grains }) =>
    grains.flatMap(({ file, found }) => found.questions.map((question) => `${file}: ${question}`)),
  );
  const built = layers.filter(({ layer }) => layer !== null).map(layerTold);
  return [
    `<section class="sample"><h2>${escape(SAMPLE_WORDS.sample(sample.sample))}</h2>`,
    stratigraphy(sample),
    grainsOf(sample, linkTo),
    `<p class="quiet">${SAMPLE_WORDS.key}</p>`,
    listOf(SAMPLE_WORDS.dates, datingLines(built)),
    listOf(SAMPLE_WORDS.questions, questions),
    listOf(SAMPLE_WORDS.odd, odd),
    listOf(
      SAMPLE_WORDS.strays,
      strays(sample, kinds).map(({ file, layer, like, kind }) => strayText(file, layer, like, kind)),
    ),
    '</section>',
  ].join('\n');
}

function grainsOf(sample: SampleSummary, linkTo: LinkTo): string {
  const grains = numbered(sample).map(({ grain: { file, place, found }, number }): GrainTold => ({
    number,
    file,
    layer: place.layer,
    particle: place.particle,
    present: found.present,
    open: found.open,
    best: found.best ? `${found.best.name}${found.best.alike > 0 ? ' (or alike)' : ''}` : '',
    year: found.dating?.year ?? null,
    note: place.note,
  }));
  const table = grainTable(sample.sample, grains);
  const links = new Map(table?.rows.map(({ id }, i) => [id, linkTo(grains.at(i)!.file)]));
  return table ? treeHtml([table], 'sample', (id) => links.get(id)) : '';
}
