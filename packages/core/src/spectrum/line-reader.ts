const LF = 10;
const CR = 13;

/** Walks over the lines of a text, ended by LF, CR or CRLF, without holding them all. */
export class LineReader {
  readonly #text: string;
  #at = 0;
  /** Number of the line read last, from 1. */
  line = 0;
  /** Whether the line read last was closed by a line end. */
  closed = true;

  constructor(text: string) {
    this.#text = text;
  }

  /** The next line without its end, or null after the last. */
  next(): string | null {
    const text = this.#text;
    if (this.#at >= text.length) return null;
    let end = this.#at;
    for (; end < text.length; end++) {
      const code = text.charCodeAt(end);
      if (code === LF || code === CR) break;
    }
    const line = text.slice(this.#at, end);
    this.closed = end < text.length;
    this.#at = end + (text.charCodeAt(end) === CR && text.charCodeAt(end + 1) === LF ? 2 : 1);
    this.line++;
    return line;
  }
}
