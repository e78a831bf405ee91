/**
 * A pure function of one key whose last few results are kept. Keys are texts that hold everything the result depends on,
 * so that whoever asks first or last gets the same.
 */
export function memoise<Input, Result>(
  limit: number,
  keyOf: (input: Input) => string,
  make: (input: Input) => Result,
): (input: Input) => Result {
  const kept = new Map<string, Result>();
  return (input) => {
    const key = keyOf(input);
    let result = kept.get(key);
    if (result === undefined) {
      result = make(input);
      if (kept.size >= limit) {
        const oldest = kept.keys().next();
        if (!oldest.done) kept.delete(oldest.value);
      }
      kept.set(key, result);
    }
    return result;
  };
}
