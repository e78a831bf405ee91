import { counted } from './terms/numerals.ts';
import type { Length, Node } from './sections/tree.ts';

// How a page and a report fold a tree: what is brief stands open, the rest is folded under a title.

/** Neighbours that are folded together, and the title they are folded under. */
export interface Fold {
  readonly kind: 'fold';
  /** That of the section where one is folded; else made from its first node's. */
  readonly id: string;
  readonly title: string;
  readonly nodes: readonly Node[];
}

/** Title over what a row unfolds to. */
export const WHY = 'Why';
const HOW_TO_READ = 'How to read it';
const MORE = 'More';

/** Neighbours with those that are told only in full folded: a section by itself, others together. What is in a fold is not folded again. */
export function folded(nodes: readonly Node[]): (Node | Fold)[] {
  const out: (Node | Fold)[] = [];
  let run: Node[] = [];
  const close = (): void => {
    const [first] = run;
    if (first) out.push({ kind: 'fold', id: `${first.id}-fold`, title: titleOf(run), nodes: run });
    run = [];
  };
  for (const node of nodes) {
    if (node.length === 'full' && node.kind !== 'section') {
      run.push(node);
      continue;
    }
    close();
    if (node.length === 'full' && node.kind === 'section')
      out.push({ kind: 'fold', id: node.id, title: node.title, nodes: node.nodes });
    else out.push(node);
  }
  close();
  return out;
}

/** The first caption among them, or what they are for. */
function titleOf(run: readonly Node[]): string {
  for (const node of run) if (node.kind === 'table' || node.kind === 'figure') return node.caption;
  return run.every((node) => node.kind === 'paragraph' && node.tone === 'note') ? HOW_TO_READ : MORE;
}

/** Items or rows: those that stand open, those that are folded, and the title over these. */
export function parted<Kind extends { readonly length: Length }>(
  all: readonly Kind[],
): { readonly open: readonly Kind[]; readonly folded: readonly Kind[]; readonly title: string } {
  const rest = all.filter(({ length }) => length === 'full');
  return {
    open: all.filter(({ length }) => length === 'brief'),
    folded: rest,
    title: counted(rest.length, 'more', 'more'),
  };
}
