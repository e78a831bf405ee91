import { createHash } from 'node:crypto';

/** SHA-256 in hex; text as UTF-8. */
export function sha256Of(content: Uint8Array | string): string {
  return createHash('sha256').update(content).digest('hex');
}
