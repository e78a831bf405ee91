import { expect, it } from 'vitest';
import { invented } from '../../../../../tests/fixtures/record.ts';
import { type GrainStep, grainSteps, sampleSteps } from './next-steps.ts';

const step = (more: Partial<GrainStep> = {}): GrainStep => ({
  step: 'Raman microscopy',
  between: 'azurite or malachite',
  settles: 0.9,
  look: 'azurite 403',
  touches: false,
  worth: 0.3,
  ...more,
});
const told = (grains: Parameters<typeof sampleSteps>[1]): string => JSON.stringify(sampleSteps('P1', grains));

it('joins the same question of several grains, most settled first, what uses up the grain last', () => {
  const test = step({ step: 'Microchemical test', worth: 5, touches: true });
  const measure = step({ step: 'EDX with more counts', between: 'Sn or Sb', settles: null, worth: 0.4 });
  const section = sampleSteps('P1', [
    { name: '1 · g01', steps: [test, step()] },
    { name: '2 · g02', steps: [step(), measure] },
  ]);
  const table = section?.kind === 'section' ? section.nodes[0] : undefined;
  const rows = table?.kind === 'table' ? table.rows.map(({ cells }) => cells.map(({ text }) => text)) : [];
  expect(rows.map(([what, , grains]) => [what, grains])).toEqual([
    ['Raman microscopy', '1 · g01 and 2 · g02'],
    ['EDX with more counts', '2 · g02'],
    ['Microchemical test (uses up the grain)', '1 · g01'],
  ]);
  expect(JSON.stringify(section)).toContain('limner plan FILE works out');
});

it('says how many steps are left out, and nothing where nothing is open', () => {
  const many = Array.from({ length: 9 }, (_, i) => step({ between: `question ${i}` }));
  expect(told([{ name: 'g', steps: many }])).toContain('3\u00a0more steps would settle less.');
  expect(sampleSteps('P1', [{ name: 'g', steps: [] }])).toBeNull();
});

it('asks after each open element: with more counts where a line here tells it from its rival', () => {
  const { elements } = invented();
  const [tin] = elements.filter(({ symbol }) => symbol === 'Sn');
  const open = [{ ...tin, verdict: 'open' as const, rivals: tin.rivals.map((rival) => ({ ...rival, deltaC: 2 })) }];
  const asked = grainSteps(invented({ elements: open, explanations: [] }));
  expect(asked.map(({ step: what, look }) => [what, look])).toEqual([
    ['EDX with more counts', expect.stringMatching(/^Sn/)],
  ]);
  const blind = open.map((one) => ({ ...one, rivals: one.rivals.map((rival) => ({ ...rival, settling: [] })) }));
  const [elsewhere] = grainSteps(invented({ elements: blind, explanations: [] }));
  expect(elsewhere?.step).toBe('EDX at another beam energy');
});
