import { atomicWeight, zOf } from './elements.ts';

/** Usual oxidation states in oxides and silicates (handbook values, from memory); where two are common, the more oxidised. */
const STATES: Readonly<Record<number, string>> = {
  1: 'Li Na K Rb Cs Ag',
  2: 'Be Mg Ca Sr Ba Mn Co Ni Cu Zn Cd Pb Hg',
  3: 'B Al Sc Cr Fe Ga As Y In Sb La Pr Nd Sm Eu Gd Tb Dy Ho Er Tm Yb Lu Bi',
  4: 'C Si Ti Ge Zr Sn Ce Hf Th Te',
  5: 'P V Nb Ta',
  6: 'S Mo W U Se',
};

const STATE_OF = new Map<number, number>(
  Object.entries(STATES).flatMap(([state, symbols]) =>
    symbols.split(' ').map((symbol) => [zOf(symbol)!, Number(state)] as const),
  ),
);

const OXYGEN = 8;
const CHARGE_OF_OXYGEN = 2;

/** Mass of oxygen that goes with a unit mass of an element in its usual oxide; 0 for halogens, noble metals and oxygen itself. */
export function oxygenPerMass(z: number): number {
  const state = STATE_OF.get(z) ?? 0;
  return (state * atomicWeight(OXYGEN)) / (CHARGE_OF_OXYGEN * atomicWeight(z));
}
