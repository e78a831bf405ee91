import { describe, expect, it } from 'vitest';
import { chartPairs } from './chart.ts';
import { drawingPdf, drawingSvg } from './drawing.ts';
import { PAPERS, wallChart } from './wall-chart.ts';

const OPTIONS = { beamKev: 20, withinEv: 60, most: 96 };

describe('the wall chart', () => {
  const pairs = chartPairs(OPTIONS);
  const names = pairs.map(({ a, b }) =>
    [`${a.line.symbol} ${a.line.iupac}`, `${b.line.symbol} ${b.line.iupac}`].sort().join(' '),
  );

  it('has the pairs known from paint first, then others; none twice', () => {
    const lastPaint = pairs.map(({ paint }) => paint).lastIndexOf(true);
    expect(pairs.slice(0, lastPaint + 1).every(({ paint }) => paint)).toBe(true);
    expect(new Set(names).size).toBe(names.length);
    for (const { apartEv, strength } of pairs) {
      expect(apartEv).toBeLessThanOrEqual(60);
      expect(strength).toBeGreaterThan(0);
      expect(strength).toBeLessThanOrEqual(1);
    }
  });

  // X-Ray Data Booklet, Table 1-2.
  it.each([
    'Pb M5-N7 S K-L3',
    'Mo L3-M5 S K-L3',
    'Ba L3-M5 Ti K-L3',
    'As K-L3 Pb L3-M5',
    'Cd L2-M4 K K-L3',
    'Na K-L3 Zn L2-M4',
  ])('has %s', (name) => expect(names).toContain(name));

  it.each(Object.entries(PAPERS))('is drawn on %s, every mark on the sheet', (paper, [widthPt, heightPt]) => {
    const drawing = wallChart(OPTIONS, paper as keyof typeof PAPERS);
    expect([drawing.widthPt, drawing.heightPt]).toEqual([widthPt, heightPt]);
    for (const mark of drawing.marks) {
      const ys = mark.kind === 'line' ? [mark.y1, mark.y2] : [mark.y];
      const xs = mark.kind === 'line' ? [mark.x1, mark.x2] : [mark.x];
      expect(Math.min(...xs, ...ys)).toBeGreaterThan(0);
      expect(Math.max(...xs)).toBeLessThan(widthPt);
      expect(Math.max(...ys)).toBeLessThan(heightPt);
    }
  });
});

describe('a drawing', () => {
  const drawing = wallChart({ ...OPTIONS, most: 3 }, 'A4');

  it('is a PDF whose table of objects points at each object', () => {
    const pdf = drawingPdf(drawing);
    expect(pdf).toMatch(/^%PDF-1\.4\n[\x20-\x7e\n]*%%EOF\n$/);
    const start = Number(/startxref\n(\d+)/.exec(pdf)![1]);
    const entries = [...pdf.slice(start).matchAll(/^(\d{10}) 00000 n /gm)].map(([, at]) => Number(at));
    expect(entries.length).toBe(7);
    entries.forEach((at, i) => expect(pdf.slice(at).startsWith(`${i + 1} 0 obj`)).toBe(true));
    const [, length, stream] = /\/Length (\d+) >>\nstream\n([^]*?)\nendstream/.exec(pdf)!;
    expect(stream.length).toBe(Number(length));
  });

  it('is an SVG that needs nothing from elsewhere', () => {
    const svg = drawingSvg(drawing);
    expect(svg.match(/https?:[^"]*/g)).toEqual(['http://www.w3.org/2000/svg']);
    expect(svg).toContain('<title>Lines that coincide</title>');
  });
});
