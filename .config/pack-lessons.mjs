// Packs data/lessons/*.txt into packages/core/src/teach/lessons.json: id to text, without what a student sees only after committing.
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { lessonTexts, withoutAnswer } from './lesson-texts.mjs';

const target = fileURLToPath(new URL('../packages/core/src/teach/lessons.json', import.meta.url));

const texts = lessonTexts().map(([id, text]) => [id, withoutAnswer(text)]);
const json = `${JSON.stringify(Object.fromEntries(texts))}\n`;
if (!existsSync(target) || readFileSync(target, 'utf8') !== json) {
  const temporary = `${target}.${process.pid}.tmp`;
  writeFileSync(temporary, json);
  renameSync(temporary, target);
}
