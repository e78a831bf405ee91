import { drawingPdf, drawingSvg, handout, lessonKeyFrom, LESSONS, wallChart } from '@limner/core';
import type { Command } from 'commander';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { examples } from '../examples.ts';
import { EXIT, type Io, UsageError, WriteError } from '../io.ts';
import { newFolder } from '../new-folder.ts';

interface Flags {
  readonly out: string;
}

/** The built page, seen from this file and from the bundled command alike. */
const PAGE = new URL('../../../viewer/dist/page/', import.meta.url);

const START_HERE = `The overlap bench

1. Open index.html in a browser. Nothing is installed, nothing is sent anywhere.
2. Choose lesson 1 at the top. Predict and commit, work on the bench, explain in a sentence, compare with the answer.
3. Print handout-*.html for those who draw their prediction first, and wall-chart.pdf for the wall (A4; it grows to A1).
4. The answers are in answer-*.js, and nowhere else. Delete these files where no answers are to be had: the rest works without them.

All spectra here are simulated: no evidence about any object.
`;

export function addTeach(program: Command, io: Io, exit: (code: number) => void): void {
  program
    .command('teach')
    .summary('write a folder for the classroom: bench, lessons, handouts, wall chart')
    .description(
      'Writes a folder that opens from a memory stick, without installing anything and without a network: the overlap bench with its ' +
        'lessons, a handout per lesson and a wall chart of overlaps. The answers lie in files of their own (answer-*.js), which the bench loads once a student ' +
        'has committed to a prediction; who opens such a file can read it, so leave them out of a folder that is to be handed out without answers.',
    )
    .requiredOption('--out <FOLDER>', 'new folder')
    .addHelpText('after', examples(io.command, 'teach --out classroom'))
    .action(async ({ out }: Flags) => {
      if (out === '-') throw new UsageError('teach: --out needs a folder');
      await newFolder(resolve(io.cwd, out), out, await classroom());
      io.stderr.write(`${out}: open index.html; START-HERE.txt has the details\n`);
      exit(EXIT.done);
    });
}

const CHART = { beamKev: 20, withinEv: 60, most: 96 };

async function classroom(): Promise<Map<string, string>> {
  const [html, script, style, worker] = await Promise.all([
    built('bench.html'),
    built('bench.js'),
    built('bench.css'),
    built('bench-worker.js'),
  ]);
  const answers = await Promise.all(LESSONS.map(({ id }) => answerFile(id)));
  const chart = wallChart(CHART, 'A4');
  return new Map([
    ['START-HERE.txt', START_HERE],
    ['index.html', withWorkerText(html)],
    ['bench.js', script],
    ['bench.css', style],
    // A browser starts no worker from a file, so the page makes one of this text.
    ['bench-worker-text.js', `globalThis.limnerBenchWorker = ${JSON.stringify(worker)};\n`],
    ...answers,
    ['wall-chart.svg', drawingSvg(chart)],
    ['wall-chart.pdf', drawingPdf(chart)],
    ...LESSONS.map((lesson): [string, string] => [`handout-${lesson.id}.html`, handout(lesson)]),
  ]);
}

/** The script that hands the bench a lesson's whole text. @throws LessonError where its answer cannot be read */
async function answerFile(id: string): Promise<[string, string]> {
  const name = `answer-${id}.js`;
  const script = await built(name);
  lessonKeyFrom(id, JSON.parse(script.slice(script.indexOf('(') + 1, script.lastIndexOf(')'))) as string);
  return [name, script];
}

const SCRIPT = '<script defer src="bench.js"></script>';
const withWorkerText = (html: string): string =>
  html.replace(SCRIPT, `<script defer src="bench-worker-text.js"></script>\n    ${SCRIPT}`);

/** @throws WriteError where the page is not built */
async function built(name: string): Promise<string> {
  try {
    return await readFile(new URL(name, PAGE), 'utf8');
  } catch (error) {
    throw new WriteError('teach: the page is not built yet; run `npm run build` once', { cause: error });
  }
}
