const encoder = new TextEncoder();
/** Used again for every text: memory that is new each time costs more than the text. */
let memory = new Uint8Array(2 ** 20);

/**
 * What `JSON.stringify` makes of plain data, as UTF-8. It is written in short pieces: the text of a whole record is longer than the engine
 * keeps with its small objects, and would be copied twice before it is bytes.
 */
export function jsonBytes(value: object): Uint8Array {
  let end = 0;
  for (const piece of pieces(value)) {
    const most = end + 3 * piece.length;
    if (most > memory.length) {
      const larger = new Uint8Array(2 * most);
      larger.set(memory.subarray(0, end));
      memory = larger;
    }
    end += encoder.encodeInto(piece, memory.subarray(end)).written;
  }
  return memory.slice(0, end);
}

function* pieces(value: object): Generator<string> {
  let before = '{';
  for (const [key, one] of Object.entries(value) as [string, unknown][]) {
    if (one === undefined) continue;
    yield `${before}${JSON.stringify(key)}:`;
    if (Array.isArray(one)) yield* entries(one);
    else yield JSON.stringify(one);
    before = ',';
  }
  yield before === '{' ? '{}' : '}';
}

function* entries(list: readonly unknown[]): Generator<string> {
  let before = '[';
  for (const one of list) {
    yield before;
    yield JSON.stringify(one) ?? 'null';
    before = ',';
  }
  yield before === '[' ? '[]' : ']';
}
