import { csv } from './csv.ts';

/** S1-L2-g03, S1_layer2_3, 'S1 L2 3': sample, layer, particle. */
const NAMED = /^(.+?)[-_ .]+(?:L|layer)[-_ ]?(\d{1,3})(?:[-_ .]+(.+))?$/i;
/** Other names: the last number is the particle's. */
const NUMBERED = /^(.+?)[-_ .]+([a-z]{0,4}\d+)$/i;

/** A sample sheet for files of these names, filled in as far as the names allow; the rest is left empty. */
export function sheetTemplate(files: readonly string[]): string {
  const rows = files.map((file) => {
    const folder = file.includes('/') ? file.slice(0, file.lastIndexOf('/')) : '';
    const stem = file.slice(folder === '' ? 0 : folder.length + 1).replace(/\.[^.]*$/, '');
    const [, sample, layer, particle] = NAMED.exec(stem) ?? [];
    if (sample !== undefined) return [file, sample, String(Number(layer)), particle ?? '', '', '', ''];
    const [, name, number] = NUMBERED.exec(stem) ?? [];
    return [file, folder || (name ?? stem), '', number ?? '', '', '', ''];
  });
  return csv([['file', 'sample', 'layer', 'particle', 'magnification', 'known', 'note'], ...rows]);
}
