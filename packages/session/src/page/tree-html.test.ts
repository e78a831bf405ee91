import { readingTree } from '@limner/core';
import { expect, it } from 'vitest';
import { invented } from '../../../../tests/fixtures/record.ts';
import { treeHtml } from './tree-html.ts';

const html = (more: Parameters<typeof invented>[0] = {}): string => treeHtml(readingTree(invented(more)).nodes, 's');

it('shows what is brief, and folds the rest under its title', () => {
  const [open = '', ...folds] = html().split('<details');
  expect(open).toContain('<p id="s-answer" class="lead">The counts require lead and tin.');
  expect(open).toMatch(/<tr id="s-element-Pb"><th scope="row">Pb<\/th><td>lead<\/td><td>present<\/td>/);
  expect(open).not.toContain('Naples yellow');
  expect(folds.find((fold) => fold.includes('Naples yellow'))).toMatch(
    /^ id="s-ruled-out"><summary>Ruled out: 1, nearest first/,
  );
  expect(folds.find((fold) => fold.includes('settling-Sn-1'))).toMatch(/^><summary>Why/);
});

it('has each id once, and closes what it opens', () => {
  const text = html();
  const ids = [...text.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const tag of ['details', 'table', 'tr', 'td', 'th', 'ul', 'li', 'div', 'p', 'h3', 'h4'])
    expect(text.split(new RegExp(`<${tag}[ >]`)).length, tag).toBe(text.split(`</${tag}>`).length);
});

it('shows text from files as text, in ids too', () => {
  const text = html({
    header: [{ key: '<b>', unit: '"', value: "<img src=x onerror='1'>" }],
    ledger: [{ part: 'artefact', name: '"><script>', counts: 5 }],
    warnings: [{ code: '"><i>', text: '<i>tilted</i>' }],
  });
  expect(text).not.toMatch(/<(img|script|i)[ >]/);
});

it('never prints a number with an exponent', () => {
  expect(html({ conditions: { ...invented().conditions, totalCounts: 8.6e7 } })).not.toMatch(/\de[+-]\d/);
});
