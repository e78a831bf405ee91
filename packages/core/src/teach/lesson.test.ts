import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { linesOf } from '../atomic/lines.ts';
import { zOf } from '../atomic/elements.ts';
import { filled } from './figures.ts';
import { lessonFrom } from './lesson.ts';
import { lessonKeyFrom } from './lesson-key.ts';
import packed from './lessons.json' with { type: 'json' };
import { lessonAnswer, lessonQuestion, LESSONS } from './lessons.ts';
import { handout } from './handout.ts';
import { benchAnswer, benchNeeds } from './bench.ts';

/** The whole text of a lesson, as a teacher edits it. */
const wholeText = (id: string): string =>
  readFileSync(new URL(`../../../../data/lessons/${id}.txt`, import.meta.url), 'utf8');

const TEXT = `# A test
## aim
Aim.
## minutes
5
## state start
parts=BaSO4:95,TiO2:5
beam=20
out=Ti
## question
What?
- [ ] this
- [x] that
## step start
Go.
## explain
Why?
## answer
{{sigma start Ti}}
## sources
- none
`;

describe('the lessons of data/lessons', () => {
  it('are twelve, each with a question, steps, an answer and sources, ten to twenty minutes long', () => {
    expect(LESSONS.length).toBe(12);
    for (const { id, minutes, steps, choices } of LESSONS) {
      const { answer, sources, right } = lessonKeyFrom(id, wholeText(id));
      expect(minutes).toBeGreaterThanOrEqual(10);
      expect(minutes).toBeLessThanOrEqual(20);
      expect(steps.length).toBeGreaterThan(1);
      expect(answer.length).toBeGreaterThan(1);
      expect(sources.length).toBeGreaterThan(1);
      expect(choices.length).toBeGreaterThan(2);
      expect(choices[right]).toBeTruthy();
    }
  });

  it.each(LESSONS.map((lesson) => [lesson.id, lesson] as const))(
    '%s: a question without an answer, every place filled',
    (_, lesson) => {
      const question = lessonQuestion(lesson);
      const told = JSON.stringify(question);
      expect(told).not.toMatch(/\{\{|\}\}|undefined|NaN/);
      expect(Object.keys(question).sort()).toEqual(['aim', 'choices', 'explain', 'question', 'steps']);
      const { answer, sources } = lessonKeyFrom(lesson.id, wholeText(lesson.id));
      for (const before of [told, handout(lesson), JSON.stringify(packed)])
        for (const text of [...answer, ...sources]) expect(before).not.toContain(text.slice(0, 40));
      expect(JSON.stringify(packed)).not.toContain('[x]');
    },
  );

  it.each(process.env['LIMNER_LESSONS'] ? LESSONS.map(({ id }) => id) : ['07-sodium-zinc', '09-escape-and-sum'])(
    '%s: its answer has the numbers of the bench',
    (id) => {
      const lesson = LESSONS.find((one) => one.id === id)!;
      const { answer } = lessonAnswer(lesson, wholeText(id));
      expect(answer.join(' ')).not.toMatch(/\{\{|\}\}|undefined|NaN/);
    },
  );

  it.each(LESSONS.map(({ id, states }) => [id, states] as const))(
    '%s: its spectra are ordinary draws, so that a student finds about what the answer names',
    (_id, states) => {
      // A grain is expected as if it were thick, and says so.
      for (const state of [...states.values()].filter(({ grainUm }) => grainUm === null)) {
        const { found, sigma } = benchAnswer(state);
        expect(Math.abs(found - sigma)).toBeLessThan(Math.max(1.5, 0.22 * sigma));
      }
    },
    60_000,
  );

  it.each(LESSONS.map(({ id }) => id))('%s: names the source of every line and edge that it gives', (id) => {
    const text = wholeText(id);
    const sources = lessonKeyFrom(id, text).sources.join('\n');
    const places = [...text.matchAll(/\{\{(energy|apart|escape|sum|edge|overvoltage) ([^}]+)\}\}/g)];
    for (const [, name, words] of places) {
      if (name === 'edge' || name === 'overvoltage') {
        expect(sources).toMatch(/Edges: X-Ray Data Booklet .*Table 1-1/);
        continue;
      }
      for (const [, symbol, line] of words.matchAll(/(\S+) (\S+)/g)) {
        const { source } = linesOf(zOf(symbol)!).find(({ iupac }) => iupac === line)!;
        expect(sources).toContain(
          { 'SRD 128 measured': 'SRD 128', 'XDB 1-2': 'Table 1-2' }[source] ?? source.slice(0, 13),
        );
      }
    }
  });

  it('the one where nothing settles it says so with core’s own figures', () => {
    const lesson = LESSONS.find(({ id }) => id === '07-sodium-zinc')!;
    const many = benchAnswer(lesson.states.get('many')!);
    expect(many.sigma).toBeLessThan(3);
    expect(benchNeeds(lesson.states.get('many')!, many).countsNeeded).toBeNull();
    expect(lessonAnswer(lesson, wholeText(lesson.id)).answer[0]).toContain('No number of counts is enough');
  });
});

describe('a lesson’s text', () => {
  it('is read, and its numbers are those of the bench', () => {
    const lesson = lessonFrom('test', TEXT);
    expect(lesson.steps).toEqual([{ text: 'Go.', to: 'start' }]);
    const { sigma } = benchAnswer(lesson.states.get('start')!);
    expect(filled(lesson, '{{sigma start Ti}}')).toBe(`${sigma.toFixed(1)}\u00a0sigma`);
    expect(filled(lesson, '{{apart S K-L3 Pb M5-N7}}')).toBe('37.6\u00a0eV');
  });

  it.each([
    [TEXT.replace('# A test', 'A test'), /first line must be the title/],
    [TEXT.replace('## minutes\n5', ''), /needs one section '## minutes'/],
    [TEXT.replace('## step start', '## step nowhere'), /leads to 'nowhere'/],
    [TEXT.replace('beam=20', 'beam=99'), /beam=99: give a number from 3 to 30/],
    [TEXT.replace('## explain', '## because'), /no section 'because'/],
  ])('is refused with what is wrong', (text, message) => {
    expect(() => lessonFrom('test', text)).toThrow(message);
  });

  it.each([
    [TEXT.replace('[x]', '[ ]'), /one choice must be right/],
    [TEXT.replace('## answer', '## aim'), /needs one section '## answer'/],
  ])('has its answer refused with what is wrong', (text, message) => {
    expect(() => lessonKeyFrom('test', text)).toThrow(message);
  });

  it.each([
    ['{{sigma nowhere Ti}}', /no state 'nowhere'/],
    ['{{weight Ti}}', /no figure 'weight'/],
    ['{{apart Xx K-L3 S K-L3}}', /'Xx' is not an element symbol/],
  ])('has no place %s', (place, message) => {
    expect(() => filled(lessonFrom('test', TEXT), place)).toThrow(message);
  });
});
