import { normalise, sumOver } from '../arithmetic/sum.ts';
import { atomicWeight, MAX_Z, zOf } from './elements.ts';

/** Mass fractions indexed by atomic number (length MAX_Z + 1, entry 0 unused), summing to 1. */
export type MassFractions = Float64Array;

/** Longer texts are no formulas; the limit keeps nesting, and so recursion, shallow. */
const LONGEST = 500;
const LARGEST_NUMBER = 1e6;

const TOKEN = /[A-Z][a-z]?|\d+(?:\.\d+)?|\.\d+|[()[\]]|[*·]|\s+|./gu;

/**
 * A full stop that joins, as typed for the dot of 'CaSO4·2H2O': between blanks, in front of an element or bracket, or between
 * a whole number of atoms and water, where decimals would make no sense ('CaSO4.2H2O').
 */
const JOINING_STOP = /\s\.\s|\.(?=[A-Z([])|(?<=[A-Za-z)\]][1-9]\d*)\.(?=\d+H2O)/g;

/**
 * Atoms per formula unit, by atomic number. Brackets nest; '*' or '·' joins parts, each with an optional factor in front, and so
 * does a full stop where it is no decimal point: 'SiO2', 'Na0.5K0.5Cl', 'CaSO4*2H2O', '2PbCO3*Pb(OH)2', 'CaSO4.2H2O'.
 * @throws SyntaxError naming the place and the reason
 */
export function parseFormula(formula: string): Map<number, number> {
  const atoms = new Map<number, number>();
  const reader = new FormulaReader(formula);
  do reader.part(atoms);
  while (reader.take('*') || reader.take('·'));
  reader.expectEnd();
  return atoms;
}

/**
 * Mass fractions of a formula, by the standard atomic weights.
 * @param formula like 'SiO2', '2PbCO3*Pb(OH)2' or 'CaSO4·2H2O'
 * @throws SyntaxError if it cannot be read
 */
export function massFractionsOf(formula: string): MassFractions {
  const fractions: MassFractions = new Float64Array(MAX_Z + 1);
  for (const [z, count] of parseFormula(formula)) fractions[z] = count * atomicWeight(z);
  return normalised(fractions);
}

/**
 * Mass fractions of a mixture, its parts scaled to sum to 1.
 * @param parts formulas with their shares by mass, in any unit common to all
 * @throws RangeError if a part is negative or all are zero; SyntaxError if a formula cannot be read
 */
export function mixture(parts: readonly { formula: string; massFraction: number }[]): MassFractions {
  const fractions: MassFractions = new Float64Array(MAX_Z + 1);
  for (const { formula, massFraction } of parts) {
    if (!(massFraction >= 0 && massFraction < Infinity)) {
      throw new RangeError(`The mass fraction of ${formula} is ${massFraction}; it must be zero or more.`);
    }
    massFractionsOf(formula).forEach((value, z) => (fractions[z] += massFraction * value));
  }
  return normalised(fractions);
}

function normalised(fractions: MassFractions): MassFractions {
  const sum = sumOver(fractions);
  if (!(sum > 0)) throw new RangeError('A composition needs at least one element with an amount above zero.');
  if (sum === Infinity) throw new RangeError('The amounts of this composition are too large to add up.');
  return normalise(fractions);
}

/** An element and how many atoms of it. */
type Atoms = readonly [z: number, count: number];

const isWord = (token: string): boolean => token.trim() !== '';

/** Recursive descent over the tokens of a formula. */
class FormulaReader {
  readonly #formula: string;
  readonly #tokens: string[];
  #at = 0;

  constructor(formula: string) {
    if (formula.length > LONGEST) {
      throw new SyntaxError(`A formula of ${formula.length} characters cannot be read; ${LONGEST} is the limit.`);
    }
    this.#formula = formula;
    this.#tokens = (formula.replace(JOINING_STOP, '*').match(TOKEN) ?? []).filter(isWord);
  }

  take(token: string): boolean {
    if (this.#tokens[this.#at] !== token) return false;
    this.#at++;
    return true;
  }

  /** [factor] group+ */
  part(atoms: Map<number, number>): void {
    const factor = this.#number();
    for (const [z, n] of this.#groups()) atoms.set(z, (atoms.get(z) ?? 0) + n * factor);
  }

  expectEnd(): void {
    if (this.#at < this.#tokens.length) this.#fail(`'${this.#tokens[this.#at]}' is not allowed here`);
  }

  #groups(): Atoms[] {
    const found: Atoms[] = [];
    if (!this.#group(found)) this.#fail('an element is missing');
    while (this.#group(found));
    return found;
  }

  /** One element or one bracket, with its number; false if neither stands here. */
  #group(found: Atoms[]): boolean {
    const token = this.#tokens[this.#at] ?? '';
    if (token === '(' || token === '[') {
      this.#at++;
      const inner = this.#groups();
      const closing = token === '(' ? ')' : ']';
      if (!this.take(closing)) this.#fail(`'${closing}' is missing`);
      const factor = this.#number();
      for (const [z, n] of inner) found.push([z, n * factor]);
      return true;
    }
    if (!/^[A-Z]/.test(token)) return false;
    const z = zOf(token);
    if (z === undefined) this.#fail(`'${token}' is not an element symbol`);
    this.#at++;
    found.push([z, this.#number()]);
    return true;
  }

  /** The number here, or 1. */
  #number(): number {
    const token = this.#tokens[this.#at] ?? '';
    if (!/^[.\d]/.test(token) || token === '.') return 1;
    this.#at++;
    if (!(Number(token) > 0 && Number(token) <= LARGEST_NUMBER)) {
      this.#fail(`the number ${token} must be above zero and at most a million`);
    }
    return Number(token);
  }

  #fail(reason: string): never {
    const before = this.#tokens.slice(0, this.#at).join('');
    const where = before ? ` after '${before}'` : ' at its start';
    throw new SyntaxError(
      `The formula '${this.#formula}' cannot be read: ${reason}${where}. Write it like SiO2 or CaSO4*2H2O.`,
    );
  }
}
