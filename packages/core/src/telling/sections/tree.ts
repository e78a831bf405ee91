// What a reading is made of before it is text on a terminal, a page or a report: a plain tree, the same for all three. It holds words
// and figures' names, no markup: a renderer lays it out, escapes it and shows or folds by `length`. Blanks inside a number, and between
// it and its unit, are no-break spaces. Text that comes from a file is as the file has it: a renderer makes it safe for its medium.

/**
 * The shortest telling that something belongs to. A short telling shows what is `brief`; a full one shows all. A page or a report
 * shows what is `brief` and folds the rest; the terminal leaves it out unless asked.
 */
export type Length = 'brief' | 'full';

interface Base {
  /** Unique in the tree and the same for the same thing in every reading, like 'elements' or 'element-Pb': usable as an anchor. */
  readonly id: string;
  readonly length: Length;
}

/** A heading with what stands under it. */
export interface Section extends Base {
  readonly kind: 'section';
  readonly title: string;
  readonly nodes: readonly Node[];
}

/** `lead`: the answer itself; `note`: how to read what is beside it; `plain`: everything else. */
export type Tone = 'lead' | 'note' | 'plain';

/** Whole sentences. */
export interface Paragraph extends Base {
  readonly kind: 'paragraph';
  readonly tone: Tone;
  readonly text: string;
}

/** One entry of a list. */
export interface Item extends Base {
  /** What the item is about, printed before the text and set apart from it; '' where the text says it. */
  readonly head: string;
  readonly text: string;
}

/** Entries of one kind. */
export interface List extends Base {
  readonly kind: 'list';
  /** `lines`: one under the other; `run-in`: short items that may stand side by side. */
  readonly layout: 'lines' | 'run-in';
  readonly items: readonly Item[];
}

export type Align = 'left' | 'right';

export interface Column {
  readonly key: string;
  readonly title: string;
  readonly align: Align;
  readonly length: Length;
  /** May be left out where there is no room for it, the last one first. */
  readonly spare: boolean;
}

export interface Cell {
  readonly text: string;
  /** What the column sorts by, in the unit of its title; null where the text itself does. */
  readonly value: number | null;
}

/** One row of a table. */
export interface Row extends Base {
  /** One per column. */
  readonly cells: readonly Cell[];
  /** What a row unfolds to: the argument behind it. */
  readonly detail: readonly Node[];
}

/** The first column names the row. */
export interface Table extends Base {
  readonly kind: 'table';
  /** For those who cannot see it, and as a caption. */
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
}

/** Place for a picture; the terminal has none. `of` names what it shows, by kind: symbols, line names, a sample (none: all points). */
export interface Figure extends Base {
  readonly kind: 'figure';
  readonly figure: 'spectrum' | 'element-lines' | 'layers' | 'grain-spectra' | 'map' | 'profile';
  readonly of: readonly string[];
  readonly caption: string;
}

/** What a tree is made of. */
export type Node = Section | Paragraph | List | Table | Figure;

/** A whole telling, without layout or markup: a renderer turns it into text or a page. */
export interface Tree {
  readonly title: string;
  readonly nodes: readonly Node[];
}

// Makers, so that sections read as what they say.

/** Names from files and tables may hold blanks, which an anchor may not. */
export const anchor = (id: string): string => id.replace(/\s+/g, '-');

export const section = (
  id: string,
  title: string,
  nodes: readonly (Node | null)[],
  length: Length = 'brief',
): Section | null => {
  const held = nodes.filter((node) => node !== null);
  return held.length === 0
    ? null
    : { kind: 'section', id: anchor(id), length: shortest(held, length), title, nodes: held };
};

export const paragraph = (
  id: string,
  text: string,
  length: Length = 'brief',
  tone: Tone = 'plain',
): Paragraph | null => (text === '' ? null : { kind: 'paragraph', id: anchor(id), length, tone, text });

export const item = (id: string, text: string, length: Length = 'brief', head = ''): Item => ({
  id: anchor(id),
  length,
  head,
  text,
});

/** As long as its longest item; none without items. */
export const list = (
  id: string,
  items: readonly Item[],
  length: Length = 'brief',
  layout: List['layout'] = 'lines',
): List | null =>
  items.length === 0 ? null : { kind: 'list', id: anchor(id), length: shortest(items, length), layout, items };

export const column = (
  key: string,
  title: string,
  align: Align = 'left',
  length: Length = 'brief',
  spare = false,
): Column => ({ key, title, align, length, spare });

/** A column that may be left out where there is no room. */
export const spareColumn = (key: string, title: string, align: Align = 'left', length: Length = 'brief'): Column =>
  column(key, title, align, length, true);

export const cell = (text: string, value: number | null = null): Cell => ({ text, value });

export const row = (
  id: string,
  cells: readonly Cell[],
  length: Length = 'brief',
  detail: readonly (Node | null)[] = [],
): Row => ({ id: anchor(id), length, cells, detail: detail.filter((node) => node !== null) });

export const table = (
  id: string,
  caption: string,
  columns: readonly Column[],
  rows: readonly Row[],
  length: Length = 'brief',
): Table | null =>
  rows.length === 0 ? null : { kind: 'table', id: anchor(id), length: shortest(rows, length), caption, columns, rows };

export const figure = (
  id: string,
  kind: Figure['figure'],
  of: readonly string[],
  caption: string,
  length: Length = 'brief',
): Figure => ({ kind: 'figure', id: anchor(id), length, figure: kind, of, caption });

/** What holds nothing brief is not brief itself: no heading over nothing. */
function shortest(held: readonly { readonly length: Length }[], length: Length): Length {
  return held.some((one) => one.length === 'brief') ? length : 'full';
}

/** Whether something is part of a telling of this length. */
export const isTold = (one: { readonly length: Length }, length: Length): boolean =>
  length === 'full' || one.length === 'brief';
