import type { LimnerRecord } from '../record/record.ts';
import { answer } from './sections/answer.ts';
import { asked } from './sections/asked.ts';
import { brightness } from './sections/brightness.ts';
import { conditions } from './sections/conditions.ts';
import { ledger, peaks } from './sections/counts.ts';
import { dating, statedYear } from './sections/dating.ts';
import { elements } from './sections/elements.ts';
import { limits } from './sections/limits.ts';
import { materials } from './sections/materials.ts';
import { cautions, warnings } from './sections/notes.ts';
import { open } from './sections/open.ts';
import { provenance } from './sections/provenance.ts';
import { ratios } from './sections/ratios.ts';
import { references } from './sections/references.ts';
import { seen } from './sections/seen.ts';
import { figure, type Node, type Tree } from './sections/tree.ts';

const spectrum = (record: LimnerRecord): Node =>
  figure(
    'spectrum',
    'spectrum',
    record.elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol),
    'The spectrum, and what explains it',
  );

/** Sections in the order in which a reading is argued: what lowers the trust in it comes right after the answer. */
const SECTIONS: readonly ((record: LimnerRecord) => Node | null)[] = [
  answer,
  warnings,
  asked,
  seen,
  spectrum,
  elements,
  open,
  materials,
  statedYear,
  ratios,
  references,
  brightness,
  dating,
  limits,
  peaks,
  ledger,
  conditions,
  cautions,
  provenance,
];

/** Told once for all spectra of a report, or so long that the record and the tables are the place for it. */
const NOT_IN_REPORT = new Set(['cautions', 'ruled-out', 'header-table']);

/** A record as a section of a report on many: without what is told once for all. */
export function reportTree(record: LimnerRecord): Tree {
  const { title, nodes } = readingTree(record);
  return { title, nodes: without(nodes, NOT_IN_REPORT) };
}

const without = (nodes: readonly Node[], ids: ReadonlySet<string>): Node[] =>
  nodes
    .filter(({ id }) => !ids.has(id))
    .map((node) => (node.kind === 'section' ? { ...node, nodes: without(node.nodes, ids) } : node));

/** A record as a person reads it. Derived from the record alone. */
export function readingTree(record: LimnerRecord): Tree {
  const name = record.source.name.trim() || 'unnamed spectrum';
  const title = record.source.title.trim();
  return {
    title: title && title !== name ? `${name}: ${title}` : name,
    nodes: SECTIONS.map((told) => told(record)).filter((node) => node !== null),
  };
}
