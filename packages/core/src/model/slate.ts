import { columnOf, type Column } from './column.ts';

/** Slates of one length that are blank; a spectrum asks for a few at a time, hundreds of times. */
let blank: Float64Array[] = [];
let length = 0;

/** An array of zeros, one per channel, to sum a shape up on; {@link lifted} takes the shape off and gives the slate back. */
export function slate(n: number): Float64Array {
  if (n !== length) [blank, length] = [[], n];
  return blank.pop() ?? new Float64Array(n);
}

/**
 * What stands on a slate, as a column of its own; the slate is blank again and must not be used any more.
 * @param from @param to channels outside of which nothing stands, where that is known: they need no looking through
 */
export function lifted(values: Float64Array, from = 0, to = values.length): Column {
  const column = columnOf(values, from, to);
  values.fill(0, column.lo, column.hi);
  if (values.length === length) blank.push(values);
  return column;
}
