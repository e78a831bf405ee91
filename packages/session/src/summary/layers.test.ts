import { kindsOf } from '@limner/core';
import { expect, it } from 'vitest';
import { samplesHtml } from '../page/samples-section.ts';
import { layerRows } from '../results/layer-table.ts';
import type { Material } from './findings.ts';
import { bySample, type Grain } from './layers.ts';

const material = (id: string, earliestUse: number | null, alike = 0): Material => ({
  id,
  name: id.toUpperCase(),
  alike,
  earliestUse,
  latestUse: null,
});

function grain(
  file: string,
  layer: number | null,
  present: string,
  best: Material | null = null,
  sample = 'S1',
  year: number | null = null,
): Grain {
  const place = { sample, layer, particle: '', magnification: '', known: '', note: '', seen: null, stated: null };
  return {
    file,
    place,
    found: {
      present: present.split(' '),
      open: [],
      best,
      dating: year === null ? null : { year, symbol: 'Sn', weakestLink: 'that it is there' },
      questions: [],
    },
  };
}

const GRAINS = [
  grain('a', 2, 'Pb C', material('white', -400)),
  grain('b', 2, 'Pb Sn O', material('yellow', 1425), 'S1', 1425),
  grain('c', 2, 'Pb', material('later', 1700, 2)),
  grain('d<', 2, 'Fe C O'),
  grain('e', 1, 'Ca', null, 'S1', 1100),
  grain('f', null, 'C'),
  grain('g', 1, 'Ca', null, 'S0'),
];

it('counts elements and materials per layer, from the ground up, and points out the grain that differs', () => {
  const samples = bySample(GRAINS);
  expect(samples.map(({ sample, layers }) => [sample, layers.map(({ layer }) => layer)])).toEqual([
    ['S0', [1]],
    ['S1', [1, 2, null]],
  ]);
  const layer = samples[1]?.layers[1];
  expect(layer?.elements[0]).toEqual({ symbol: 'Pb', grains: 3 });
  expect(layer?.odd.map(({ file }) => file)).toEqual(['d<']);
  expect(layer?.dated?.grain.file).toBe('b');
  expect(layerRows(samples)).toMatch(/^S1,2,element,Pb,Pb,3,4$/m);
  expect(layerRows(samples)).toMatch(/^S1,2,material,yellow,YELLOW,1,4$/m);
});

it('dates no layer before what it lies on, and names the weakest link', () => {
  const years = (grains: Grain[]): unknown[] =>
    bySample(grains)[0].layers.map(({ notBefore }) => notBefore?.dating.year);
  expect(
    years([
      grain('a', 1, 'Zn', null, 'S1', 1782),
      grain('b', 2, 'Pb', null, 'S1', 1300),
      grain('c', 3, 'Ti', null, 'S1', 1916),
    ]),
  ).toEqual([1782, 1782, 1916]);
  const samples = bySample(GRAINS);
  expect(layerRows(samples)).toMatch(/^S1,2,earliest-date,Sn,1425,1,4$/m);
  expect(samplesHtml(samples, kindsOf([]), (file) => ({ link: `#${file}`, steps: [], picture: '' }))).toContain(
    'Layer 2: not before about 1425, on the evidence of Sn in b. Weakest link: that it is there.',
  );
});

it('does not depend on the order of the grains', () => {
  expect(bySample([...GRAINS].reverse())).toEqual(bySample(GRAINS));
});

it('tells no grain to differ where no element is common, or too few grains are there', () => {
  const odd = (grains: Grain[]): unknown[] => bySample(grains)[0].layers[0].odd.map(({ file }) => file);
  expect(odd([grain('a', 1, 'Pb C'), grain('b', 1, 'Hg C'), grain('c', 1, 'Fe C')])).toEqual([]);
  expect(odd([grain('a', 1, 'Pb'), grain('b', 1, 'Fe')])).toEqual([]);
});

it('draws the surface on top, a mark for each grain, and the one that differs otherwise', () => {
  const html = samplesHtml(bySample(GRAINS), kindsOf([]), (file) => ({
    link: `report-2.html#s-${file}`,
    steps: [],
    picture: '',
  }));
  expect(html.indexOf('Layer 2, 4\u00a0grains')).toBeLessThan(
    html.indexOf('Layer 1, 1\u00a0grain', html.indexOf('Sample S1')),
  );
  expect(html.match(/<circle/g)).toHaveLength(5);
  expect(html.match(/<rect/g)).toHaveLength(1);
  expect(html).toContain('d&lt;, layer 2');
  expect(html).toMatch(/<a href="report-2\.html#s-f">f<\/a><\/th><td class="number"><\/td><td>outside the layers</);
  expect(html).not.toContain('d<,');
});
