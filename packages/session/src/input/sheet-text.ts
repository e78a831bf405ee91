/** What may stand between the cells of a sheet, as spreadsheets write it in one country or another. */
const DELIMITERS = [',', ';', '\t'] as const;

/** The text of a sheet: UTF-8, or else Latin-1 as Windows has it. */
export function sheetText(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/** The delimiter that parts the heading into most cells. */
export function delimiterOf(text: string): string {
  const [heading = ''] = text.split(/\r\n|\r|\n/, 1);
  const bare = heading.replace(/"[^"]*"/g, '');
  const cells = (delimiter: string): number => bare.split(delimiter).length;
  return DELIMITERS.reduce((best, delimiter) => (cells(delimiter) > cells(best) ? delimiter : best));
}
