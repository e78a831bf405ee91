import { BENCH_CAUTION } from './bench-words.ts';
import type { Lesson } from './lesson.ts';
import { lessonQuestion } from './lessons.ts';
import { benchStateText } from './bench-state.ts';
import { escaped, paper } from './paper.ts';

/** A lesson on one sheet of paper, with blank axes to draw the prediction on; it holds no answer. */
export function handout(lesson: Lesson): string {
  const { aim, question, choices, steps, explain } = lessonQuestion(lesson);
  const start = lesson.states.get('start');
  return paper(lesson.title, [
    `<h1>${escaped(lesson.title)}</h1><p>${escaped(aim)}</p>`,
    `<h2>1. Predict</h2><p>${escaped(question)}</p><ul class="choices">${choices.map((text) => `<li>${escaped(text)}</li>`).join('')}</ul>`,
    '<p>Draw what you expect: the peak with its parts and, below it, the misfit without the element.</p>',
    blankAxes(),
    `<h2>2. Work on the bench</h2><ol>${steps.map((text) => `<li>${escaped(text)}<span class="blank"></span></li>`).join('')}</ol>`,
    `<h2>3. Explain</h2><p>${escaped(explain)}</p><p class="blank"></p><p class="blank"></p>`,
    '<h2>4. Compare</h2><p>The bench shows the answer once you have committed to a prediction.</p>',
    `<footer>${escaped(BENCH_CAUTION)} ${start ? `The bench: <a href="index.html#lesson=${lesson.id}&amp;${escaped(benchStateText(start))}">index.html</a>, lesson ${escaped(lesson.title)}.` : ''}</footer>`,
  ]);
}

const AXES = { width: 640, height: 250, left: 50, bottom: 210, residualTop: 228 };

/** A frame for the spectrum and a line for the misfit, with ticks and no numbers. */
function blankAxes(): string {
  const { width, height, left, bottom } = AXES;
  const ticks = Array.from({ length: 9 }, (_, i) => left + ((width - left - 10) * i) / 8);
  return [
    `<svg viewBox="0 0 ${width} ${height + 60}" role="img" aria-label="Blank axes: counts over energy, and the misfit below">`,
    `<path d="M${left} 8V${bottom}H${width - 10}" fill="none" stroke="#000"/>`,
    ticks.map((x) => `<path d="M${x} ${bottom}v6" stroke="#000"/>`).join(''),
    `<text x="8" y="20">counts</text><text x="${width - 90}" y="${bottom + 22}">energy, keV</text>`,
    `<path d="M${left} ${height + 28}H${width - 10}M${left} ${height + 4}V${height + 52}" stroke="#000"/>`,
    `<text x="8" y="${height + 32}">misfit</text></svg>`,
  ].join('');
}
