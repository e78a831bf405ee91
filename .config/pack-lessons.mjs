// Packs data/lessons/*.txt into packages/core/src/teach/lessons.json: id (the file's name) to text. Core reads and checks them.
import { existsSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const folder = new URL('../data/lessons/', import.meta.url);
const target = fileURLToPath(new URL('../packages/core/src/teach/lessons.json', import.meta.url));

const names = readdirSync(folder)
  .filter((name) => /^\d\d-[a-z-]+\.txt$/.test(name))
  .sort();
const texts = names.map((name) => [name.slice(0, -'.txt'.length), readFileSync(new URL(name, folder), 'utf8')]);
const json = `${JSON.stringify(Object.fromEntries(texts))}\n`;
if (!existsSync(target) || readFileSync(target, 'utf8') !== json) {
  const temporary = `${target}.${process.pid}.tmp`;
  writeFileSync(temporary, json);
  renameSync(temporary, target);
}
