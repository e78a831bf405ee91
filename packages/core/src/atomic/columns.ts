/** One packed column ("1 2.5 3") as numbers. */
export function numbers(column: string): Float64Array {
  return Float64Array.from(words(column), Number);
}

/** One packed column as words. */
export function words(column: string): string[] {
  return column.split(' ');
}
