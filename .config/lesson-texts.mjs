// The texts of data/lessons.
import { readdirSync, readFileSync } from 'node:fs';

const folder = new URL('../data/lessons/', import.meta.url);

/** Id (the file's name) and whole text of each lesson, in their order. */
export function lessonTexts() {
  const names = readdirSync(folder)
    .filter((name) => /^\d\d-[a-z-]+\.txt$/.test(name))
    .sort();
  return names.map((name) => [name.slice(0, -'.txt'.length), readFileSync(new URL(name, folder), 'utf8')]);
}

/** A lesson's text without its answer, its sources and the mark of the right choice. */
export const withoutAnswer = (text) =>
  text
    .replaceAll('\r\n', '\n')
    .split(/^(?=## )/m)
    .filter((section) => !/^## (answer|sources)\b/.test(section))
    .join('')
    .replace(/^- \[x\] /gm, '- [ ] ');
