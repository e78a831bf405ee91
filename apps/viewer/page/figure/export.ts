import { save } from '../download.ts';

/** A figure as it goes on paper: 170 mm wide, at 300 dots per inch as a picture of dots. */
const WIDTH_MM = 170;
const DOTS = Math.round((WIDTH_MM / 25.4) * 300);
const MARGIN = 24;
const TEXT_PX = 14;
const LINE_PX = 20;
/** Characters of that size that fill the width, wide serif letters too. */
const CHARACTERS = 108;

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;' };
const escaped = (text: string): string => text.replace(/[&<>]/g, (character) => ENTITIES[character] ?? character);

/** A drawing with its caption below, as one SVG. @param drawing SVG text, so many pixels wide and high */
export function captioned(drawing: string, width: number, height: number, paragraphs: readonly string[]): string {
  const lines = paragraphs.flatMap((text, i) => [...(i > 0 ? [''] : []), ...folded(text)]);
  const whole = height + MARGIN + lines.length * LINE_PX + MARGIN / 2;
  const text = lines.map(
    (line, i) => `<text x="${MARGIN}" y="${height + MARGIN + i * LINE_PX}">${escaped(line)}</text>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH_MM}mm" height="${((WIDTH_MM * whole) / width).toFixed(2)}mm" viewBox="0 0 ${width} ${whole}">`,
    '<rect width="100%" height="100%" fill="#fff"/>',
    drawing.replace(/^[^<]*(<\?xml[^>]*>)?/, ''),
    `<g font-family="Georgia, 'Liberation Serif', serif" font-size="${TEXT_PX}" fill="#22262b">${text.join('')}</g>`,
    '</svg>',
  ].join('\n');
}

function folded(text: string): string[] {
  const lines = [''];
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== '' && last.length + 1 + word.length > CHARACTERS) lines.push(word);
    else lines[lines.length - 1] = last === '' ? word : `${last} ${word}`;
  }
  return lines;
}

export const saveSvg = (svg: string, name: string): void => save(new Blob([svg], { type: 'image/svg+xml' }), name);

/** The same as a picture of dots. */
export async function savePng(svg: string, name: string): Promise<void> {
  const image = new Image();
  const url = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  image.src = url;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = DOTS;
  canvas.height = Math.round((DOTS * image.naturalHeight) / image.naturalWidth);
  canvas.getContext('2d')!.drawImage(image, 0, 0, canvas.width, canvas.height);
  URL.revokeObjectURL(url);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/png'));
  if (blob) save(blob, name);
}
