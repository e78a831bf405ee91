import type { BenchAnswer, BenchCurves, BenchState, BenchWords } from '@limner/core';
import { h } from '../dom.ts';
import { addressFrom, addressText } from './address.ts';
import { Controls } from './controls.ts';
import { Core, startWorker } from './core.ts';
import { LessonView } from './lesson.ts';
import { sentences, spectrumFigure, tables, verdictBlock } from './result.ts';
import { FIRST_SIGHT, type Sight, sightControls } from './sight.ts';
import { Speeds } from './speeds.ts';
import { drawThree } from './three.ts';

const byId = <E extends HTMLElement = HTMLElement>(id: string): E => document.getElementById(id) as E;

/** The hand pauses, ms: longer than between two steps of a held key, so that while it moves nothing but curves is computed. */
const PAUSE_MS = 50;
/** The hand rests: the counts that would tell, the full verdict and the other resolutions may start, ms. */
const REST_MS = 500;
/** A screen reader is told once things have settled, ms. */
const SPEAK_MS = 900;

/** Quick questions and slow ones have a worker each, so that a verdict never holds up a curve. */
const quick = new Core(startWorker());
const slow = new Core(startWorker());

let state: BenchState;
let lesson: string | null = null;
let curves: BenchCurves | null = null;
let answer: BenchAnswer | null = null;
let sight: Sight = FIRST_SIGHT;
/** A lesson awaits a prediction: the bench shows the spectrum alone. */
let held = false;
/** Peak of the element taken out, kept while the next answer is on its way, so that the figure does not jump. */
let peakEv: number | null = null;
let pause = 0;
let rest = 0;
let speak = 0;

const places = {
  fault: h('p', { class: 'fault', role: 'alert', hidden: true }),
  question: h('div', { class: 'take-out' }),
  words: h('div', { class: 'words' }),
  figure: h('div', { class: 'figure-place' }),
  tables: h('details', {}, h('summary', {}, 'The figure as tables')),
  three: h('section', { class: 'three', 'aria-label': 'The same specimen at three resolutions' }),
  verdict: h('section', { class: 'verdict-place', 'aria-label': 'What a full reading says' }),
  link: h('input', { type: 'text', readonly: true, id: 'link' }),
};

async function start(): Promise<void> {
  const address = readAddress();
  state = address.state;
  lesson = address.lesson;
  byId('result').append(
    h('h2', {}, 'Result'),
    places.question,
    places.fault,
    places.words,
    sightControls(sight, (next) => {
      sight = next;
      draw();
    }),
    places.figure,
    places.tables,
    places.three,
    places.verdict,
    h('p', { class: 'link' }, h('label', { for: 'link' }, 'Link to this bench: '), places.link),
  );
  const controls = new Controls(byId<HTMLFormElement>('controls'), places.question, state, changed);
  const { materials, lessons, caution, leftOut } = (await quick.ask('start', null))!;
  byId('caution').textContent = caution;
  byId('left-out').textContent = leftOut;
  document.body.append(
    h(
      'datalist',
      { id: 'materials' },
      materials.map(({ id, name }) => h('option', { value: id }, name)),
    ),
  );
  const goTo = (next: BenchState): void => {
    controls.show(next);
    changed(next);
  };
  const view = new LessonView(byId('lesson'), slow, lessons, {
    goTo,
    chosen: (id) => {
      lesson = id;
      writeAddress();
    },
    hold: (now) => {
      held = now;
      controls.hold(now);
      changed({ ...state });
    },
    look: () => bringIntoView(byId('result')),
  });
  void view.show(lesson, false);
  window.addEventListener('hashchange', () => {
    if (location.hash === written) return;
    const next = readAddress();
    if (next.lesson !== lesson) void view.show(next.lesson, false);
    lesson = next.lesson;
    goTo(next.state);
  });
  // The address behind '#' is the bench's own.
  document.querySelector('.skip')!.addEventListener('click', (event) => {
    event.preventDefault();
    byId('result').focus();
  });
  new ResizeObserver(() => draw()).observe(places.figure);
  show = (offered) => controls.offer(offered);
  changed(state);
}

function bringIntoView(place: HTMLElement): void {
  const { top } = place.getBoundingClientRect();
  if (top < 0 || top > window.innerHeight / 2) place.scrollIntoView();
}

let show: (elements: readonly string[]) => void = () => undefined;

function readAddress() {
  try {
    return addressFrom(location.hash);
  } catch (error) {
    fail(error);
    return addressFrom('');
  }
}

/** The address that the page wrote itself. */
let written = '';

function writeAddress(): void {
  written = addressText({ state, lesson });
  if (location.hash !== written) location.replace(written);
  places.link.value = location.href;
}

function changed(next: BenchState): void {
  state = next;
  for (const place of [places.words, places.verdict, places.three]) place.classList.add('stale');
  clearTimeout(pause);
  clearTimeout(rest);
  pause = window.setTimeout(paused, PAUSE_MS);
  rest = window.setTimeout(() => (held ? clear() : void speeds.rested(state)), REST_MS);
  void speeds.moved(state);
}

const speeds = new Speeds(quick, slow, {
  curves: (got) => {
    curves = got;
    answer = null;
    show(got.elements);
    draw();
    places.fault.hidden = true;
  },
  told: ({ found, words }) => {
    answer = found;
    peakEv = found.peakEv;
    draw();
    places.tables.replaceChildren(places.tables.firstElementChild!, tables(words));
    settled(words);
  },
  words: settled,
  verdict: (verdict) =>
    fresh(places.verdict, [h('h3', {}, 'What a full reading says, without the recipe'), verdictBlock(verdict)]),
  three: (three) => fresh(places.three, drawThree(three, sight, places.three.clientWidth)),
  fault: fail,
});

function fresh(place: HTMLElement, nodes: readonly Node[]): void {
  place.classList.remove('stale');
  place.replaceChildren(...nodes);
}

function paused(): void {
  writeAddress();
  if (state.out === null || held) settled(null);
  else void speeds.paused(state);
}

const NOTHING_OUT = 'Nothing is taken out. Choose an element to take out of the explanation.';
const PREDICT_FIRST =
  'Predict first. Until you commit to a prediction, the bench shows only the spectrum and cannot be changed.';

function settled(words: BenchWords | null): void {
  fresh(places.words, [words ? sentences(words) : h('p', {}, held ? PREDICT_FIRST : NOTHING_OUT)]);
  clearTimeout(speak);
  speak = window.setTimeout(
    () => (byId('spoken').textContent = words ? `${words.lead} ${words.more[0] ?? ''}` : ''),
    SPEAK_MS,
  );
}

/** Nothing beside the figure that a student is to predict. */
function clear(): void {
  for (const place of [places.verdict, places.three]) fresh(place, []);
  places.tables.replaceChildren(places.tables.firstElementChild!);
}

function draw(): void {
  const widthPx = places.figure.clientWidth;
  if (curves === null || widthPx === 0) return;
  places.figure.replaceChildren(
    spectrumFigure(curves, answer, state, sight, widthPx, state.out === null || held ? null : peakEv),
  );
}

function fail(error: unknown): void {
  places.fault.hidden = false;
  places.fault.textContent = error instanceof Error ? error.message : String(error);
}

void start();
