/** Columns of a reading on paper, and where no terminal says how wide it is. */
export const TEXT_WIDTH = 100;

/** Text from files without control characters, so that none can steer a terminal. */
export function printable(text: string): string {
  // eslint-disable-next-line no-control-regex
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]+/g, ' ').trim();
}

const plainBlanks = (line: string): string => line.replaceAll('\u00a0', ' ');

/**
 * Lines of at most `width` characters, each indented; further lines by `hanging` more. No-break spaces hold their words together
 * where a line has room for them, and come out as blanks; a longer word is broken.
 */
export function wrap(text: string, indent = 0, hanging = 0, width = TEXT_WIDTH): string[] {
  const lines: string[] = [];
  let line = ' '.repeat(indent);
  let empty = true;
  const turn = (): void => {
    lines.push(line);
    line = ' '.repeat(indent + hanging);
    empty = true;
  };
  const room = width - indent - hanging;
  const words = text.split(' ').flatMap((word) => (word.length > room ? word.split('\u00a0') : [word]));
  for (const word of words.filter(Boolean)) {
    if (!empty && line.length + 1 + word.length > width) turn();
    line += empty ? word : ` ${word}`;
    empty = false;
    while (line.length > width) {
      const rest = line.slice(width);
      line = line.slice(0, width);
      turn();
      line += rest;
      empty = false;
    }
  }
  return (empty ? lines : [...lines, line]).map(plainBlanks);
}
