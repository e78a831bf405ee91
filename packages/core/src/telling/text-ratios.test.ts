import { expect, it } from 'vitest';
import { invented, pigment } from '../../../../tests/fixtures/record.ts';
import type { ElementRatio } from '../pigments/ratios.ts';
import { ratioLines } from './text-ratios.ts';

function tinToLead(more: Partial<ElementRatio> = {}): ElementRatio {
  return {
    id: 'lead-tin-yellow-i-tin',
    numerator: ['Sn'],
    denominator: ['Pb'],
    value: { value: 0.523, sigma: 0.21 },
    counting: 0.01,
    limit: null,
    expected: { low: 0.5, high: 0.5 },
    exact: 0.5,
    agrees: 'within',
    materials: ['lead-tin-yellow-i'],
    alsoIn: [],
    tells: 'less tin: lead white beside it',
    source: ['A handbook; recalled'],
    trust: 'high',
    ...more,
  };
}

it('tells value, expectation, agreement and source', () => {
  expect(ratioLines(invented({ ratios: [tinToLead()] }))).toEqual([
    '  Sn/Pb 0.5 ± 0.2, expected 0.5 in Lead-tin yellow, type I: agrees.',
    '  Expected values from: A handbook; recalled.',
  ]);
});

it('tells what it means where they disagree, and limits as such', () => {
  const above = tinToLead({ value: { value: 1.523, sigma: 0.16 }, agrees: 'above', expected: { low: 0.5, high: 0.8 } });
  const limit = tinToLead({ value: null, limit: { side: 'at-most', ratio: 0.0312 }, agrees: 'limit only' });
  const lines = ratioLines(invented({ ratios: [limit, above] }))
    .join(' ')
    .replace(/\s+/g, ' ');
  expect(lines).toContain(
    'Sn/Pb 1.52 ± 0.16, expected 0.5 to 0.8 in Lead-tin yellow, type I, so it is above: less tin',
  );
  expect(lines).toContain('Sn/Pb at most 0.031, expected 0.5');
  expect(lines.indexOf('1.52')).toBeLessThan(lines.indexOf('at most'));
});

it('is silent on materials that fit badly, and never long', () => {
  const pigments = [pigment('a', 'A', { score: 0.9 }), pigment('lead-tin-yellow-i', 'L', { score: 0.1 })];
  expect(ratioLines(invented({ pigments, ratios: [tinToLead()] }))).toEqual([]);
  const many = Array.from({ length: 30 }, () => tinToLead());
  expect(ratioLines(invented({ ratios: many })).length).toBeLessThan(12);
});
