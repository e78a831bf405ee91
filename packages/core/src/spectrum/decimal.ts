/** Longer texts are no measured number. */
const LONGEST = 64;
// One way to match each text, so that it fails as fast as it succeeds. D is the exponent letter of older programs.
const DECIMAL = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+))(?:[eEdD]([+-]?\d+))?$/;
const NOT_FINITE = /^[+-]?(?:nan|inf|infinity|1\.#[a-z]+)$/i;

/** A decimal number with a point, times ten to the power `shift` (rounded once, so '0.009999' shifted by 3 is 9.999); undefined for other text. */
export function parseDecimal(text: string, shift = 0): number | undefined {
  if (text.length > LONGEST) return undefined;
  const match = DECIMAL.exec(text);
  if (match === null) return undefined;
  return Number(`${match[1]}e${Number(match[2] ?? 0) + shift}`) + 0; // + 0 turns -0 into 0
}

/** Whether a text stands for "not a number" or infinity in one of its usual spellings. */
export function isNotFinite(text: string): boolean {
  return text.length <= LONGEST && NOT_FINITE.test(text);
}

/** The shortest plain or scientific text that `parseDecimal(text, shift)` reads back as this value. */
export function writeDecimal(value: number, shift = 0): string {
  if (shift === 0) return String(value);
  const [mantissa, exponent = '0'] = String(value).split('e');
  const scaled = `${mantissa}e${Number(exponent) - shift}`;
  const plain = String(Number(scaled));
  return parseDecimal(plain, shift) === value ? plain : scaled;
}

/** A decimal comma is certain when it cannot be a mark of thousands: '0,010' or '12,5', not '1,024'. */
export function isCertainDecimalComma(text: string): boolean {
  return text.length <= LONGEST && /^[+-]?(?:0?,\d+|\d+,(?:\d{1,2}|\d{4,}))$/.test(text);
}
