import { drawingPdf, drawingSvg, handout, lessonKeyFrom, LESSONS, startHere, wallChart } from '@limner/core';
import { readFile } from 'node:fs/promises';
import { WriteError } from '../io.ts';

/** The built page, seen from this file and from the bundled command alike. */
const PAGE = new URL('../../../viewer/dist/page/', import.meta.url);

const CHART = { beamKev: 20, withinEv: 60, most: 96 };

/**
 * The files of a classroom, text by name.
 * @param opened from a folder, where a browser starts no worker from a file, or from a server
 * @throws WriteError where the page is not built; LessonError where an answer cannot be read
 */
export async function classroom(opened: 'folder' | 'server'): Promise<Map<string, string>> {
  const [html, script, style, worker] = await Promise.all([
    built('bench.html'),
    built('bench.js'),
    built('bench.css'),
    built('bench-worker.js'),
  ]);
  const answers = await Promise.all(LESSONS.map(({ id }) => answerFile(id)));
  const chart = wallChart(CHART, 'A4');
  return new Map([
    ['START-HERE.html', startHere(LESSONS)],
    ['bench.js', script],
    ['bench.css', style],
    ...(opened === 'folder' ? inFolder(html, worker) : inServer(html, worker)),
    ...answers,
    ['wall-chart.svg', drawingSvg(chart)],
    ['wall-chart.pdf', drawingPdf(chart)],
    ...LESSONS.map((lesson): [string, string] => [`handout-${lesson.id}.html`, handout(lesson)]),
  ]);
}

const SCRIPT = '<script defer src="bench.js"></script>';

/** The page makes a worker of a text that comes as a script. */
const inFolder = (html: string, worker: string): [string, string][] => [
  ['index.html', html.replace(SCRIPT, `<script defer src="bench-worker-text.js"></script>\n    ${SCRIPT}`)],
  ['bench-worker-text.js', `globalThis.limnerBenchWorker = ${JSON.stringify(worker)};\n`],
];

const inServer = (html: string, worker: string): [string, string][] => [
  ['index.html', html],
  ['bench-worker.js', worker],
];

/** The script that hands the bench a lesson's whole text. @throws LessonError where its answer cannot be read */
async function answerFile(id: string): Promise<[string, string]> {
  const name = `answer-${id}.js`;
  const script = await built(name);
  lessonKeyFrom(id, JSON.parse(script.slice(script.indexOf('(') + 1, script.lastIndexOf(')'))) as string);
  return [name, script];
}

/** @throws WriteError where the page is not built */
async function built(name: string): Promise<string> {
  try {
    return await readFile(new URL(name, PAGE), 'utf8');
  } catch (error) {
    throw new WriteError('teach: the page is not built yet; run `npm run build` once', { cause: error });
  }
}
