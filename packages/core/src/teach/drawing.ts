/** A drawing in points (1/72 inch), origin at the top left; greys only, so that any printer will do. */
export interface Drawing {
  readonly widthPt: number;
  readonly heightPt: number;
  readonly title: string;
  readonly marks: readonly DrawingMark[];
}

export type DrawingMark =
  | {
      readonly kind: 'line';
      readonly x1: number;
      readonly y1: number;
      readonly x2: number;
      readonly y2: number;
      readonly width: number;
      /** 0 black to 1 white. */
      readonly grey: number;
    }
  | {
      readonly kind: 'text';
      readonly x: number;
      /** Of the base line. */
      readonly y: number;
      readonly size: number;
      /** Printable ASCII: the one set of signs that every PDF reader has a font for. */
      readonly text: string;
      readonly bold: boolean;
    };

const short = (value: number): string => String(Number(value.toFixed(2)));

/** The drawing as SVG text. */
export function drawingSvg({ widthPt, heightPt, title, marks }: Drawing): string {
  const body = marks.map((mark) =>
    mark.kind === 'line'
      ? `<line x1="${short(mark.x1)}" y1="${short(mark.y1)}" x2="${short(mark.x2)}" y2="${short(mark.y2)}" stroke="${hex(mark.grey)}" stroke-width="${short(mark.width)}"/>`
      : `<text x="${short(mark.x)}" y="${short(mark.y)}" font-size="${short(mark.size)}"${mark.bold ? ' font-weight="bold"' : ''}>${escapedXml(mark.text)}</text>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${short(widthPt)}pt" height="${short(heightPt)}pt" viewBox="0 0 ${short(widthPt)} ${short(heightPt)}" font-family="Helvetica, Arial, sans-serif" role="img">`,
    `<title>${escapedXml(title)}</title>`,
    '<rect width="100%" height="100%" fill="#fff"/>',
    ...body,
    '</svg>',
    '',
  ].join('\n');
}

const hex = (grey: number): string => {
  const two = Math.round(255 * grey)
    .toString(16)
    .padStart(2, '0');
  return `#${two}${two}${two}`;
};

const escapedXml = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/**
 * The drawing as a PDF of one page with two of the fonts that every reader has (ISO 32000-1: structure 7.5, paths 8.5, text 9.4); ASCII
 * only, so its length in characters is that in bytes.
 */
export function drawingPdf(drawing: Drawing): string {
  const { widthPt, heightPt } = drawing;
  const stream = pageStream(drawing);
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${short(widthPt)} ${short(heightPt)}] /Contents 4 0 R /Resources << /Font << /F1 5 0 R /F2 6 0 R >> >> >>`,
    `<< /Length ${stream.length} >>\nstream\n${stream}\nendstream`,
    '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>',
    '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold >>',
    `<< /Title (${escapedPdf(drawing.title)}) >>`,
  ];
  let text = '%PDF-1.4\n';
  const at = objects.map((object, i) => {
    const from = text.length;
    text += `${i + 1} 0 obj\n${object}\nendobj\n`;
    return from;
  });
  const table = at.map((from) => `${String(from).padStart(10, '0')} 00000 n \n`).join('');
  const size = objects.length + 1;
  return `${text}xref\n0 ${size}\n0000000000 65535 f \n${table}trailer\n<< /Size ${size} /Root 1 0 R /Info 7 0 R >>\nstartxref\n${text.length}\n%%EOF\n`;
}

function pageStream({ heightPt, marks }: Drawing): string {
  const up = (y: number): string => short(heightPt - y);
  return marks
    .map((mark) =>
      mark.kind === 'line'
        ? `${short(mark.grey)} G ${short(mark.width)} w ${short(mark.x1)} ${up(mark.y1)} m ${short(mark.x2)} ${up(mark.y2)} l S`
        : `BT /F${mark.bold ? 2 : 1} ${short(mark.size)} Tf ${short(mark.x)} ${up(mark.y)} Td (${escapedPdf(mark.text)}) Tj ET`,
    )
    .join('\n');
}

const escapedPdf = (text: string): string =>
  text.replace(/[\\()]/g, (sign) => `\\${sign}`).replace(/[^\x20-\x7e]/g, ' ');
