// Packs data/atomic/*.csv into packages/core/src/atomic/tables.json: one string of space-separated numbers per column.
// (Strings, not arrays: exact decimals, quick to parse, and the type checker need not look at 100 000 literals.)
import { createHash } from 'node:crypto';
import { readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const data = fileURLToPath(new URL('../data/atomic/', import.meta.url));
const target = fileURLToPath(new URL('../packages/core/src/atomic/tables.json', import.meta.url));
const NAMES = ['elements', 'subshells', 'coster-kronig', 'cascade', 'lines', 'attenuation', 'ionisation'];
const SUBSHELLS = ['K', 'L1', 'L2', 'L3', 'M1', 'M2', 'M3', 'M4', 'M5'];

const modified = (path) => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;
const inputs = [fileURLToPath(import.meta.url), ...NAMES.map((name) => `${data}${name}.csv`)];
if (modified(target) <= Math.max(...inputs.map(modified))) pack();

function pack() {
  const hash = createHash('sha256');
  const [elements, subshells, costerKronig, cascade, lines, attenuation, ionisation] = NAMES.map((name) => {
    const text = readFileSync(`${data}${name}.csv`, 'utf8');
    hash.update(text);
    return table(text);
  });
  const sources = [...new Set(lines('source'))];
  const shells = (values) => numbers(values.map((s) => SUBSHELLS.indexOf(s)));
  const packed = {
    version: '',
    elements: {
      symbol: elements('symbol').join(' '),
      name: elements('name').join(' '),
      weight: numbers(elements('atomic_weight')),
    },
    subshells: {
      z: numbers(subshells('z')),
      subshell: shells(subshells('subshell')),
      edgeEv: numbers(subshells('edge_ev')),
      yield: numbers(subshells('yield')),
      widthEv: numbers(subshells('level_width_ev')),
    },
    costerKronig: {
      z: numbers(costerKronig('z')),
      from: shells(costerKronig('from')),
      to: shells(costerKronig('to')),
      probability: numbers(costerKronig('probability')),
    },
    cascade: {
      z: numbers(cascade('z')),
      from: shells(cascade('from')),
      to: shells(cascade('to')),
      vacancies: numbers(cascade('vacancies')),
    },
    lines: {
      z: numbers(lines('z')),
      iupac: lines('iupac').join(' '),
      siegbahn: lines('siegbahn')
        .map((name) => name || '-')
        .join(' '),
      energyEv: numbers(lines('energy_ev')),
      uncertaintyEv: numbers(lines('energy_unc')),
      relative: numbers(lines('relative')),
      widthEv: numbers(lines('width_ev')),
      source: numbers(lines('source').map((source) => sources.indexOf(source))),
      sources,
    },
    attenuation: {
      z: numbers(attenuation('z')),
      energyEv: numbers(attenuation('energy_ev')),
      cm2PerG: numbers(attenuation('cm2_per_g')),
    },
    ionisation: {
      z: numbers(ionisation('z')),
      subshell: shells(ionisation('subshell')),
      ...Object.fromEntries(
        ['edge_ev', 'a1', 'a2', 'a3', 'a4', 'a5', 'be', 'anlj', 'g1', 'g2', 'g3', 'g4'].map((key) => [
          key === 'edge_ev' ? 'edgeEv' : key,
          numbers(ionisation(key)),
        ]),
      ),
    },
  };
  packed.version = `atomic-${hash.digest('hex').slice(0, 12)}`;
  writeFileSync(`${target}.${process.pid}.part`, `${JSON.stringify(packed)}\n`);
  renameSync(`${target}.${process.pid}.part`, target);
}

/** CSV text -> a function from column name to the values of that column. */
function table(text) {
  const [header, ...rows] = text
    .trimEnd()
    .split('\n')
    .map((line) => [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^",]*))/g)].map((match) => match[1] ?? match[2]));
  for (const row of rows) if (row.length !== header.length) throw new Error(`data/atomic: odd row ${row.join(',')}`);
  return (column) => {
    const at = header.indexOf(column);
    if (at < 0) throw new Error(`data/atomic: no column ${column} in ${header.join(',')}`);
    return rows.map((row) => row[at]);
  };
}

function numbers(values) {
  const odd = values.find((value) => value === '' || !Number.isFinite(Number(value)));
  if (odd !== undefined) throw new Error(`data/atomic: "${odd}" is not a number`);
  return values.map((value) => String(Number(value))).join(' ');
}
