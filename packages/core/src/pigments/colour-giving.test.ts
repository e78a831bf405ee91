import { describe, expect, it } from 'vitest';
import { givesColour, inOrder, letsDown, type PartOfGrain } from './colour-giving.ts';
import { type Material, materialById } from './knowledge.ts';

const part = (id: string, massFraction: number): PartOfGrain => ({ material: materialById(id)!, massFraction });
const order = (...parts: readonly PartOfGrain[]): string[] => inOrder(parts).map(({ material }) => material.id);

describe('the parts of a grain', () => {
  it('begin with what gives the colour, then white, ground, filler, and what fell on it', () => {
    const parts = [part('quartz', 0.3), part('chalk', 0.3), part('lead-white', 0.3), part('vermilion', 0.1)];
    const told = order(...parts);
    expect(told.slice(0, 2)).toEqual(['vermilion', 'lead-white']);
    const classes = told.slice(2).map((id) => materialById(id)!.class);
    expect(classes).toEqual([...classes].sort((a, b) => rank(a) - rank(b)));
  });

  it('have a coloured one at the end where it is less than 3 % of all', () => {
    expect(order(part('lead-white', 0.971), part('vermilion', 0.029))).toEqual(['lead-white', 'vermilion']);
    expect(order(part('lead-white', 0.97), part('vermilion', 0.03))).toEqual(['vermilion', 'lead-white']);
    // Of what was analysed it may be less: the materials alone count.
    expect(order(part('lead-white', 0.469), part('vermilion', 0.0155))).toEqual(['vermilion', 'lead-white']);
  });

  it('of one kind come by their amounts', () => {
    expect(order(part('azurite', 0.2), part('malachite', 0.8))).toEqual(['malachite', 'azurite']);
  });
});

const rank = (kind: Material['class']): number => ['pigment', 'ground', 'filler'].indexOf(kind);

it('white pigments, grounds and fillers let down, colours do not', () => {
  for (const id of ['lead-white', 'chalk', 'quartz']) {
    expect(letsDown(materialById(id)!), id).toBe(true);
    expect(givesColour(materialById(id)!), id).toBe(false);
  }
  for (const id of ['vermilion', 'madder-lake', 'azurite']) {
    expect(letsDown(materialById(id)!), id).toBe(false);
    expect(givesColour(materialById(id)!), id).toBe(true);
  }
});

it('of several colours the one that was seen comes first, however little of it there is', () => {
  const red = ({ material }: PartOfGrain): number => (material.id === 'vermilion' ? 0 : -3);
  const grain = [part('ultramarine-synthetic', 0.4), part('vermilion', 0.1), part('quartz', 0.5)];
  expect(inOrder(grain)[0].material.id).toBe('ultramarine-synthetic');
  expect(inOrder(grain, red)[0].material.id).toBe('vermilion');
});

it('salts that make up most of a grain come before the chalk in it', () => {
  expect(order(part('chalk', 0.2), part('halite', 0.8))).toEqual(['halite', 'chalk']);
  expect(order(part('chalk', 0.8), part('halite', 0.2))).toEqual(['chalk', 'halite']);
  expect(order(part('chalk', 0.5), part('halite', 0.5))).toEqual(['chalk', 'halite']);
});
