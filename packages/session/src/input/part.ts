/** A share of a session: the K-th of N, K from 1. */
export interface Part {
  readonly k: number;
  readonly of: number;
}

/** Whether content with this SHA-256 (hex) belongs to the part: its first 48 bits modulo N decide, so neither names nor order matter. */
export function inPart(sha256: string, { k, of }: Part): boolean {
  return Number.parseInt(sha256.slice(0, 12), 16) % of === k - 1;
}
