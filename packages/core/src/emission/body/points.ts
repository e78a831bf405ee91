import { exp } from '../../arithmetic/exponential.ts';

/** Points with weights (g/cm2 where phi is 1) and the mass on their way out in grain and in surrounding, times sin(take-off). */
export class Points {
  readonly #weight: number[] = [];
  readonly #throughGrain: number[] = [];
  readonly #throughSurrounding: number[] = [];
  readonly #flatWeight: number[] = [];
  readonly #flatDepth: number[] = [];

  add(weight: number, throughGrain: number, throughSurrounding: number): void {
    this.#weight.push(weight);
    this.#throughGrain.push(throughGrain);
    this.#throughSurrounding.push(throughSurrounding);
  }

  /** The same ionisations as they would lie in a flat layer: mass depth in it. */
  addFlat(weight: number, depth: number): void {
    this.#flatWeight.push(weight);
    this.#flatDepth.push(depth);
  }

  /** Of all points, what gets out. */
  leaving(chiGrain: number, chiSurrounding: number): number {
    let sum = 0;
    for (let i = 0; i < this.#weight.length; i++)
      sum += this.#weight[i] * exp(-chiGrain * this.#throughGrain[i] - chiSurrounding * this.#throughSurrounding[i]);
    return sum;
  }

  /** The same for the flat layer with its own chi. */
  leavingFlat(chi: number): number {
    let sum = 0;
    for (let i = 0; i < this.#flatWeight.length; i++) sum += this.#flatWeight[i] * exp(-chi * this.#flatDepth[i]);
    return sum;
  }
}
