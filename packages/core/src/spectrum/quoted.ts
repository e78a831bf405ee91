/** Text of the input for a message: short, and without control characters. */
export function quoted(text: string): string {
  // eslint-disable-next-line no-control-regex -- these are what must not reach a terminal
  const clean = text.slice(0, 41).replace(/[\u0000-\u001f\u007f-\u009f]/g, '?');
  return `'${clean.length > 40 ? `${clean.slice(0, 39)}…` : clean}'`;
}
