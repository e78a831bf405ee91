import type { Derived } from './derive.ts';

/** What became of a file. */
export type Outcome =
  | { readonly kind: 'read'; readonly name: string; readonly sha256: string; readonly derived: Derived }
  | { readonly kind: 'failed'; readonly name: string; readonly sha256: string | null; readonly reason: string }
  /** Another part reads it. */
  | { readonly kind: 'elsewhere'; readonly name: string; readonly sha256: string };
