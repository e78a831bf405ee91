import { type Compared, LEAST_SHARE } from './alike.ts';
import { SHARE_SYMBOLS } from './composition.ts';

const N = SHARE_SYMBOLS.length;

/** The mean composition of a kind: shares weighted by counting (and the least share that matters), so that weak spectra move it little. */
export class KindCentre implements Compared {
  readonly share = new Float32Array(N).fill(NaN);
  readonly counting = new Float32Array(N).fill(NaN);
  readonly physics = new Float32Array(N).fill(NaN);
  dilution: Compared['dilution'] = null;
  at: readonly number[] = [];
  members = 0;
  readonly #weight = new Float64Array(N);
  readonly #seen = new Uint32Array(N);
  #dilutionWeight = 0;

  static of(items: readonly Compared[]): KindCentre {
    const centre = new KindCentre();
    for (const item of items) centre.add(item);
    return centre;
  }

  add(item: Compared): void {
    for (let i = 0; i < N; i++) this.#mix(i, item, 1 / (item.counting[i] ** 2 + LEAST_SHARE ** 2));
    for (const i of item.at) this.#seen[i]++;
    if (item.dilution !== null) this.#dilute(item.dilution.value, 1 / item.dilution.sigma ** 2);
    this.members++;
    this.#settle();
  }

  /** This and another kind as one. */
  with(other: KindCentre): KindCentre {
    const both = new KindCentre();
    for (const one of [this, other]) {
      for (let i = 0; i < N; i++) {
        both.#mix(i, one, one.#weight[i]);
        both.#seen[i] += one.#seen[i];
      }
      if (one.dilution !== null) both.#dilute(one.dilution.value, one.#dilutionWeight);
      both.members += one.members;
    }
    both.#settle();
    return both;
  }

  /** Elements that more than so many members see, with their shares, largest first. */
  elements(many: number): { readonly symbol: string; readonly share: number }[] {
    return this.at
      .filter((i) => this.#seen[i] > many)
      .map((i) => ({ symbol: SHARE_SYMBOLS[i], share: this.share[i] }))
      .sort((a, b) => b.share - a.share);
  }

  #mix(i: number, item: Compared, weight: number): void {
    if (!(weight > 0)) return; // blind to it
    const total = this.#weight[i] + weight;
    const part = weight / total;
    const mean = (old: number, one: number): number => (Number.isNaN(old) ? one : old + part * (one - old));
    this.share[i] = mean(this.share[i], item.share[i]);
    this.physics[i] = mean(this.physics[i], item.physics[i]);
    this.counting[i] = 1 / Math.sqrt(total);
    this.#weight[i] = total;
  }

  #dilute(value: number, weight: number): void {
    const total = this.#dilutionWeight + weight;
    const mean =
      this.dilution === null ? value : this.dilution.value + (weight / total) * (value - this.dilution.value);
    this.dilution = { value: mean, sigma: 1 / Math.sqrt(total) };
    this.#dilutionWeight = total;
  }

  #settle(): void {
    const seen: number[] = [];
    for (let i = 0; i < N; i++) if (this.#seen[i] > 0 && this.share[i] >= LEAST_SHARE) seen.push(i);
    this.at = seen.sort((a, b) => this.share[b] - this.share[a]);
  }
}
