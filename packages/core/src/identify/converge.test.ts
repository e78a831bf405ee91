import { expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { settledContender } from './contender.ts';

const givenUp = (formula: string, gain: number, totalCounts = 200_000): boolean => {
  const spectrum = simulate(
    { composition: formula },
    { beamKev: 20, channels: 512, axis: { offsetEv: 0, gainEv: 40 }, totalCounts, seed: 5, perturb: { seed: 5 } },
  );
  const axis = { offsetEv: 0, gainEv: 40 * gain };
  return settledContender({ ...spectrum, axis }, { beamEv: 20_000, takeOffDeg: 40, brief: true }).settled.givenUp;
};

it('a settling on the right axis is followed to its end, however poor its first round', () => {
  for (const formula of ['CaCO3', 'HgS', '2PbCO3*Pb(OH)2', 'Fe2O3']) expect(givenUp(formula, 1), formula).toBe(false);
});

it('a settling on an axis far from the right one is given up', () => {
  for (const formula of ['CaCO3', '2PbCO3*Pb(OH)2']) expect(givenUp(formula, 0.9), formula).toBe(true);
});
