// Packs data/pigments/*.csv into packages/core/src/pigments/knowledge.json. Writes only when the content changes, so that
// an unchanged table costs no recompilation. Checks form only (columns, numbers); tests/knowledge.test.ts checks sense.
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const folder = new URL('../data/pigments/', import.meta.url);
const target = fileURLToPath(new URL('../packages/core/src/pigments/knowledge.json', import.meta.url));

const text = (cell) => cell;
const list = (cell) => (cell === '' ? [] : cell.split(';').map((part) => part.trim()));
const words = (cell) => (cell === '' ? [] : cell.split(/\s+/));
const number = (cell) => {
  if (cell === '' || !Number.isFinite(Number(cell))) throw new Error(`"${cell}" is not a number`);
  return Number(cell);
};
const sum = (cell) => cell.split('+');
const bound = (cell) => (cell === '' ? null : number(cell));
const year = (cell) => (cell === '' ? null : number(cell));

/** 'PbO 70 + SiO2 30' (weight per cent) or one formula -> parts whose mass fractions add up to 1. */
function composition(cell) {
  const parts = cell === '' ? [] : cell.split(' + ').map((part) => part.trim().split(/\s+/));
  if (parts.length === 1 && parts[0].length === 1) return [{ formula: parts[0][0], massFraction: 1 }];
  const total = parts.reduce((sum, [, percent]) => sum + number(percent ?? ''), 0);
  if (parts.length > 0 && Math.abs(total - 100) > 0.5) throw new Error(`weights of "${cell}" add up to ${total}`);
  return parts.map(([formula, percent]) => ({ formula, massFraction: number(percent) / total }));
}

/** 'Cl/Cu>0.25 reads as a basic chloride; ...' -> atomic ratios above which the material is unlikely. */
const against = (cell) =>
  list(cell).map((part) => {
    const match = /^([A-Z][a-z]?)\/([A-Z][a-z]?)>([\d.]+)\s+(.+)$/.exec(part);
    if (match === null) throw new Error(`"${part}" is not of the form El/El>ratio reason`);
    return { element: match[1], per: match[2], above: number(match[3]), reason: match[4] };
  });

/** Columns of each table, in order: name in the CSV, name in the JSON, how a cell is read. */
const TABLES = {
  materials: [
    ['id', 'id', text],
    ['name', 'name', text],
    ['other_names', 'otherNames', list],
    ['class', 'class', text],
    ['hue', 'hue', text],
    ['composition', 'composition', composition],
    ['spread', 'spread', number],
    ['required', 'required', words],
    ['companions', 'companions', words],
    ['against', 'against', against],
    ['usualness', 'usualness', text],
    ['earliest', 'earliest', year],
    ['first_painting', 'firstPainting', year],
    ['latest', 'latest', year],
    ['dates_trust', 'datesTrust', text],
    ['dates_source', 'datesSource', list],
    ['composition_trust', 'compositionTrust', text],
    ['composition_source', 'compositionSource', list],
    ['follow_up', 'followUp', text],
    ['hazard', 'hazard', text],
    ['note', 'note', text],
  ],
  lookalikes: [
    ['members', 'members', words],
    ['why', 'why', text],
    ['told_apart_by', 'toldApartBy', text],
    ['source', 'source', list],
  ],
  hazards: [
    ['element', 'element', text],
    ['from_percent', 'fromPercent', number],
    ['caution', 'caution', text],
    ['source', 'source', list],
  ],
  sources: [
    ['key', 'key', text],
    ['title', 'title', text],
    ['kind', 'kind', text],
    ['consulted', 'consulted', text],
  ],
  clashes: [
    ['element_a', 'elementA', text],
    ['line_a', 'lineA', text],
    ['element_b', 'elementB', text],
    ['line_b', 'lineB', text],
    ['settled_by', 'settledBy', text],
    ['beam_kev', 'beamKev', (cell) => (cell === '' ? null : number(cell))],
    ['paint_context', 'paintContext', text],
    ['source', 'source', list],
  ],
  ratios: [
    ['id', 'id', text],
    ['materials', 'materials', words],
    ['numerator', 'numerator', sum],
    ['denominator', 'denominator', sum],
    ['formulas', 'formulas', list],
    ['low', 'low', bound],
    ['high', 'high', bound],
    ['tells', 'tells', text],
    ['source', 'source', list],
    ['trust', 'trust', text],
  ],
  optics: [
    ['material', 'material', text],
    ['property', 'property', text],
    ['value', 'value', text],
    ['source', 'source', text],
    ['trust', 'trust', text],
    ['note', 'note', text],
  ],
};
/** Tables packed as rows of cells, without the names of the columns: long ones, whose cells core reads itself. */
const AS_ROWS = ['optics'];

/** Rows of a CSV text (RFC 4180), each an array of cells; blank lines and lines beginning with # are skipped. */
function parseCsv(csv) {
  const rows = [];
  for (const [, line] of csv.replaceAll('\r\n', '\n').matchAll(/((?:"(?:[^"]|"")*"|[^"\n])+)(?:\n|$)/g)) {
    if (line.startsWith('#') || line.trim() === '') continue;
    const cells = [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)];
    rows.push(cells.map(([, quoted, plain]) => (quoted?.replaceAll('""', '"') ?? plain ?? '').trim()));
  }
  return rows;
}

function readTable(name, columns) {
  const path = fileURLToPath(new URL(`${name}.csv`, folder));
  const csv = readFileSync(path, 'utf8');
  const [head, ...rows] = parseCsv(csv);
  if (head?.join() !== columns.map(([column]) => column).join())
    throw new Error(`${path}: the first row must read ${columns.map(([column]) => column).join()}`);
  const records = rows.map((cells, index) => {
    if (cells.length !== columns.length)
      throw new Error(`${path}, row ${index + 2} (${cells[0]}): ${cells.length} cells, ${columns.length} expected`);
    return Object.fromEntries(
      columns.map(([column, field, read], at) => {
        try {
          return [field, read(cells[at])];
        } catch (error) {
          throw new Error(`${path}, row ${index + 2} (${cells[0]}), ${column}: ${error.message}`);
        }
      }),
    );
  });
  return { csv, records };
}

try {
  const tables = Object.entries(TABLES).map(([name, columns]) => [name, readTable(name, columns)]);
  const hash = createHash('sha256');
  for (const [name, { csv }] of tables) hash.update(`${name}\n${csv}\n`);
  const packed = Object.fromEntries(
    tables.map(([name, { records }]) => [name, AS_ROWS.includes(name) ? records.map(Object.values) : records]),
  );
  const json = JSON.stringify({ version: hash.digest('hex').slice(0, 16), ...packed }) + '\n';
  if (!existsSync(target) || readFileSync(target, 'utf8') !== json) {
    const temporary = `${target}.${process.pid}.tmp`;
    writeFileSync(temporary, json);
    renameSync(temporary, target);
  }
} catch (error) {
  console.error(`Packing the pigment knowledge stopped: ${error.message}`);
  process.exit(1);
}
