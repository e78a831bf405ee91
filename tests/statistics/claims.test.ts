// Claims on elements under the lines of a neighbour: what is there may go unseen, but its claim, with its true amount or with none, is never
// contradicted; an amount above the limit is. Simulated with physics bent away from the fit's.
import { expect, it } from 'vitest';
import { identify } from '@limner/core';
import { mixture } from '../../packages/core/src/atomic/composition.ts';
import { answerClaims } from '../../packages/core/src/record/claims.ts';
import { grainOf } from './grains.ts';

const COUNTS = 200_000;
/** What hides, in what, its content by mass, beam energy in keV, number of seeds. */
const HIDDEN: readonly (readonly [
  symbol: string,
  host: string,
  massFraction: number,
  beamKev: number,
  seeds: number,
])[] = [
  ['Na', 'ZnO', 0.037, 15, 4],
  ['S', '2PbCO3*Pb(OH)2', 0.03, 15, 2],
  ['Ti', 'BaSO4', 0.03, 20, 2],
];

it.each(HIDDEN)('%s in %s, %f by mass, at %i keV: %i seeds', (symbol, host, massFraction, beamKev, seeds) => {
  const parts = [
    { formula: host, massFraction: 1 - massFraction },
    { formula: symbol, massFraction },
  ];
  for (let seed = 1; seed <= seeds; seed++) {
    const { spectrum } = grainOf(symbol, mixture(parts), beamKev, COUNTS, seed);
    const { elements, claims } = identify(spectrum, { claim: [symbol] });
    const { verdict, limit } = elements.find((one) => one.symbol === symbol)!;
    const answerTo = (amount: number) => answerClaims([{ symbol, massFraction: amount }], elements)[0].answer;
    expect(claims[0].answer, `seed ${seed}`).toBe(verdict === 'present' ? 'supported' : 'cannot-tell');
    expect(answerTo(massFraction), `seed ${seed}`).toBe(claims[0].answer);
    if (verdict !== 'not-seen') continue;
    expect(limit!.massFraction).toBeLessThan(0.6);
    expect(answerTo(0.6), `seed ${seed}`).toBe('contradicted');
  }
});
