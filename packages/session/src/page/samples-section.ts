import { type Kinds, yearText } from '@limner/core';
import type { SampleSummary } from '../summary/layers.ts';
import { escape, listOf } from './report-parts.ts';
import { strays } from '../summary/strays.ts';
import { stratigraphy } from './stratigraphy.ts';

/** The report's section on samples: the layers of each as a figure, and grains that differ from their layer. */
export function samplesSection(samples: readonly SampleSummary[], kinds: Kinds): string {
  if (samples.length === 0) return '';
  const parts = samples.flatMap((sample) => {
    const odd = sample.layers.flatMap(({ layer, odd }) => odd.map(({ file }) => `${file}, layer ${layer}`));
    const figure = stratigraphy(sample);
    const beside = sample.layers.filter(({ layer }) => layer === null).flatMap(({ grains }) => grains);
    return [
      `<h2>Sample ${escape(sample.sample)}</h2>`,
      figure,
      datingPart(sample),
      listOf('Differ from their layer: worth a second look', odd),
      listOf(
        'Perhaps from another layer',
        strays(sample, kinds).map(
          ({ file, layer, like, kind }) =>
            `${file}, layer ${layer}: no other grain of this layer is of its kind (${kind}), but most of layer ${like} are. Did it come from there, or do both layers contain it?`,
        ),
      ),
      beside.length > 0
        ? `<p class="quiet">Outside the layers: ${escape(beside.map(({ file }) => file).join(', '))}</p>`
        : '',
    ];
  });
  return [
    ...parts,
    '<p class="quiet">Surface at the top, ground at the bottom; not to scale. A dark dot is a grain; an open dot with a bar is a grain with none of the elements that most grains of its layer contain. Dates are arguments, never proof: a retouching, a mixture or a look-alike can change them.</p>',
  ].join('\n');
}

/** The dating argument of a sample, layer by layer, with its weakest link; and questions about the stated date. */
function datingPart({ layers }: SampleSummary): string {
  const built = layers.filter(({ layer }) => layer !== null);
  const argued = built.flatMap(({ layer, dated, notBefore }) => {
    if (!notBefore) return [];
    const { grain, dating } = notBefore;
    const own = dated?.grain === grain;
    const from = own ? grain.file : `the layers below (${grain.file})`;
    return [
      `Layer ${layer}: not before about ${yearText(dating.year)}, on the evidence of ${dating.symbol} in ${from}. Weakest link: ${dating.weakestLink}.`,
    ];
  });
  const last = built.at(-1)?.notBefore;
  const whole = last ? [`The sample as a whole: not before about ${yearText(last.dating.year)}.`] : [];
  const questions = layers.flatMap(({ grains }) =>
    grains.flatMap(({ file, found }) => found.questions.map((question) => `${file}: ${question}`)),
  );
  return (
    listOf('Earliest date: an argument, not proof', [...argued, ...whole]) +
    listOf('Questions about the stated date', questions)
  );
}
