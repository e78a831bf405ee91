import type { BenchState, LessonKey } from '@limner/core';
import { h } from '../dom.ts';
import { lessonFile } from './answer-file.ts';
import type { Core } from './core.ts';
import type { Asks, Start } from './protocol.ts';

type Question = Asks['question']['answer'];

interface LessonEvents {
  /** Sets the bench. */
  readonly goTo: (state: BenchState) => void;
  /** A lesson was chosen, or none. */
  readonly chosen: (id: string | null) => void;
  /** Whether the bench holds back what a student is to predict. */
  readonly hold: (held: boolean) => void;
  /** The result is to be looked at. */
  readonly look: () => void;
}

/**
 * A lesson in four stages: predict and commit, work on the bench, explain, compare. Each stage appears when the one before is done; the
 * answer is loaded only at the last, so it is not in the page before.
 */
export class LessonView {
  readonly #place: HTMLElement;
  readonly #core: Core;
  readonly #lessons: Start['lessons'];
  readonly #on: LessonEvents;

  constructor(place: HTMLElement, core: Core, lessons: Start['lessons'], on: LessonEvents) {
    this.#place = place;
    this.#core = core;
    this.#lessons = lessons;
    this.#on = on;
  }

  /** @param begin whether the bench goes to the lesson's start */
  async show(id: string | null, begin: boolean): Promise<void> {
    const body = h('div', { class: 'lesson-body' });
    const title = this.#lessons.find((one) => one.id === id)?.title ?? 'Lessons';
    this.#place.replaceChildren(h('h2', { id: 'lesson-title' }, title), this.#chooser(id), body);
    this.#on.hold(id !== null);
    if (id === null) {
      body.append(h('p', {}, 'No lesson is open. Change anything below.'));
      return;
    }
    const question = await this.#core.ask('question', id);
    if (question === null) return;
    if (begin) this.#on.goTo(question.start);
    body.append(h('p', { class: 'aim' }, question.aim), this.#predict(id, question));
  }

  #chooser(id: string | null): HTMLElement {
    const select = h(
      'select',
      { id: 'lesson-choice' },
      h('option', { value: '' }, 'none, just the bench'),
      this.#lessons.map((one, i) =>
        h('option', { value: one.id, selected: one.id === id }, `${i + 1}. ${one.title} (${one.minutes} min)`),
      ),
    );
    select.addEventListener('change', () => {
      this.#on.chosen(select.value || null);
      void this.show(select.value || null, true);
    });
    return h('p', {}, h('label', { for: 'lesson-choice' }, 'Choose a lesson: '), select);
  }

  #predict(id: string, question: Question): HTMLElement {
    const commit = h('button', { type: 'submit' }, 'Commit to this answer');
    const form = h(
      'form',
      { class: 'stage' },
      h(
        'fieldset',
        {},
        h('legend', {}, '1. Predict'),
        h('p', {}, question.question),
        question.choices.map((text, i) =>
          h(
            'label',
            { class: 'choice' },
            h('input', { type: 'radio', name: 'prediction', value: i, required: true }),
            h('span', {}, text),
          ),
        ),
        commit,
      ),
    );
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      const chosen = Number(new FormData(form).get('prediction'));
      form.querySelectorAll('input').forEach((input) => (input.disabled = true));
      commit.remove();
      this.#on.hold(false);
      const next = this.#work(id, question, chosen);
      form.after(next);
      next.focus({ preventScroll: true });
    });
    return form;
  }

  #work(id: string, question: Question, chosen: number): HTMLElement {
    const done = h('button', { type: 'button' }, 'I have read the figures');
    const stage = h(
      'section',
      { class: 'stage', tabindex: -1 },
      h('h3', {}, '2. Work on the bench'),
      h(
        'ol',
        {},
        question.steps.map((text, i) => {
          const to = question.leads[i];
          return h('li', {}, text, to ? this.#setter(to) : null);
        }),
      ),
      done,
    );
    done.addEventListener('click', () => {
      done.remove();
      const next = this.#explain(id, question, chosen);
      stage.after(next);
      next.querySelector('textarea')?.focus();
    });
    return stage;
  }

  #setter(to: BenchState): HTMLElement {
    const set = (): void => {
      this.#on.goTo(to);
      this.#on.look();
    };
    return h('button', { type: 'button', class: 'go', onclick: set }, 'Set the bench to this');
  }

  #explain(id: string, question: Question, chosen: number): HTMLElement {
    const text = h('textarea', { rows: 2, id: 'explanation', required: true });
    const show = h('button', { type: 'submit' }, 'Compare with the answer');
    const fault = h('p', { class: 'fault', role: 'alert', hidden: true });
    const form = h(
      'form',
      { class: 'stage' },
      h('h3', {}, '3. Explain'),
      h('label', { for: 'explanation' }, question.explain),
      text,
      show,
      fault,
    );
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      show.disabled = true;
      fault.hidden = true;
      void this.#answerStage(id, question, chosen).then(
        (stage) => {
          show.remove();
          form.after(stage);
          stage.focus();
        },
        (error: unknown) => {
          show.disabled = false;
          fault.hidden = false;
          fault.textContent = error instanceof Error ? error.message : String(error);
        },
      );
    });
    return form;
  }

  async #answerStage(id: string, question: Question, chosen: number): Promise<HTMLElement> {
    const key = await this.#core.ask('lesson', { id, text: await lessonFile(id) });
    if (key === null) throw new Error('Another lesson has been opened in the meantime.');
    return answerStage(key, question, chosen);
  }
}

function answerStage({ right, answer, sources }: LessonKey, { choices }: Question, chosen: number): HTMLElement {
  return h(
    'section',
    { class: 'stage answer', tabindex: -1 },
    h('h3', {}, '4. Compare'),
    h(
      'p',
      { class: 'verdict' },
      chosen === right ? 'Your prediction is right: ' : 'Your prediction is not right. The right one is: ',
      h('q', {}, choices[right]),
    ),
    answer.map((text) => h('p', {}, text)),
    h('h4', {}, 'Sources'),
    h(
      'ul',
      {},
      sources.map((source) => h('li', {}, source)),
    ),
  );
}
