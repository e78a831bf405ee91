import { expect, it } from 'vitest';
import { captioned } from './export.ts';

it('stands 170 mm wide with its caption folded below, text as text', () => {
  const words = Array.from({ length: 60 }, (_, i) => `word${i}`).join(' ');
  const svg = captioned('<svg width="1000" height="500"></svg>', 1000, 500, [words, 'from <b>a & b.msa</b>']);
  expect(svg).toMatch(/^<svg [^>]*width="170mm" height="[\d.]+mm" viewBox="0 0 1000 \d+">/);
  const lines = [...svg.matchAll(/<text x="\d+" y="(\d+)">([^<]*)</g)].map(([, y, text]) => ({ y: Number(y), text }));
  expect(lines.map(({ text }) => text).join(' ')).toContain('from &lt;b&gt;a &amp; b.msa&lt;/b&gt;');
  expect(lines.length).toBeGreaterThan(4);
  expect(lines.every(({ y, text }) => y > 500 && text.length <= 110)).toBe(true);
});
