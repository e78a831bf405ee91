import { SIGMAS } from '../plan/counts-for.ts';
import { benchStateText } from './bench-state.ts';
import { BENCH_CAUTION } from './bench-words.ts';
import type { Lesson } from './lesson.ts';
import { escaped, paper } from './paper.ts';

/** What a teacher reads first: how to give a lesson, the words of the bench, and links to all that is there. */
export function startHere(lessons: readonly Lesson[]): string {
  return paper('The overlap bench: start here', [
    '<h1>The overlap bench: start here</h1>',
    `<p>Twelve lessons on overlapping peaks. ${BENCH_CAUTION} Nothing is installed, and nothing is sent anywhere.</p>`,
    '<h2>To give a lesson</h2>',
    ordered([
      'Open the lesson below in any current browser, on one screen for all or on each student’s own. Print its handout for those who draw their prediction first.',
      '<b>Predict</b> (3 minutes). Each student chooses an answer and commits to it. Until then the bench shows only the spectrum.',
      '<b>Work on the bench</b> (6 minutes). Each step has a button that sets the bench. Read the bold sentence and the misfit under the spectrum; write the figures down.',
      '<b>Explain</b> (3 minutes). One sentence of the student’s own. It stays in the browser, and is gone when the page is closed.',
      '<b>Compare</b> (3 minutes). The answer, with its figures and sources. Ask for the sentences that got the reason right, not only the choice.',
    ]),
    '<h2>Words of the bench</h2>',
    `<dl>${WORDS.map(([word, meaning]) => `<dt>${word}</dt><dd>${meaning}</dd>`).join('')}</dl>`,
    '<h2>Lessons</h2>',
    ordered(lessons.map(lessonLine)),
    '<h2>For the wall, and without answers</h2>',
    '<p>Chart of overlaps, A4; it can be enlarged to A1 without loss: <a href="wall-chart.pdf">PDF</a>, <a href="wall-chart.svg">SVG</a>.</p>',
    '<p>The answers are in the files answer-*.js and nowhere else. Anyone who opens one can read it. Delete them from a copy that is to contain no answers: everything else works without them.</p>',
  ]);
}

const WORDS: readonly (readonly [word: string, meaning: string])[] = [
  ['Explanation', 'The model’s account of the spectrum: lines of each element, continuum, detector.'],
  [
    'Taken out',
    'The element is removed from the explanation and everything else is fitted again: amounts, axis, resolution and line ratios, each as far as its uncertainty allows.',
  ],
  [
    'Sigma',
    `Standard deviations by which the fit is worse without the element: the square root of the rise in chi-square. The lessons call ${SIGMAS} enough; a full reading asks for more.`,
  ],
  [
    'Expected',
    'What spectra of this specimen give on average. A single spectrum, with its noise, comes out about 1 sigma higher or lower; the answers quote the expected figure.',
  ],
  ['Misfit', 'Counts less fit, channel by channel, in standard deviations; drawn under the spectrum.'],
  [
    'Strain',
    'How far the fit had to bend quantities beyond what is known of them. It counts too, and no curve shows it.',
  ],
];

const ordered = (items: readonly string[]): string => `<ol>${items.map((item) => `<li>${item}</li>`).join('')}</ol>`;

function lessonLine({ id, title, minutes, states }: Lesson): string {
  const start = states.get('start')!;
  const bench = `index.html#lesson=${id}&${benchStateText(start)}`;
  return (
    `<a href="${escaped(bench)}">${escaped(title)}</a> (${minutes} minutes) · ` +
    `<a href="handout-${id}.html">handout</a>`
  );
}
