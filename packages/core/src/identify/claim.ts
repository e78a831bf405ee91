/** What someone says is there. */
export interface Claim {
  readonly symbol: string;
  /** How much of it there is said to be, by mass; null where no amount is named. */
  readonly massFraction: number | null;
}
