/** A value with where it comes from. */
export interface Stated {
  readonly value: number;
  readonly origin: 'header' | 'option' | 'estimated' | 'default';
}
