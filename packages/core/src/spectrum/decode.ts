import { EmsaError } from './emsa-error.ts';
import type { FileWarnings } from './file-warning.ts';

/** The part of the Encoding Standard's TextDecoder used here; Node and browsers have it, the ES library types do not. */
declare class TextDecoder {
  constructor(label: string, options?: { fatal?: boolean });
  decode(bytes: Uint8Array): string;
}

/**
 * Text of the bytes: UTF-8 with or without byte-order mark, UTF-16, else Latin-1 (read as its superset windows-1252).
 * @throws EmsaError 'empty-file', 'binary-file'
 */
export function decodeText(bytes: Uint8Array, warnings: FileWarnings): string {
  const wide = utf16Of(bytes);
  const text = wide === null ? decodeNarrow(bytes, warnings) : decode(wide, bytes);
  if (text === null || text.includes('\0')) {
    throw new EmsaError({ code: 'binary-file' });
  }
  if (text.trim() === '') {
    throw new EmsaError({ code: 'empty-file' });
  }
  return text;
}

function decodeNarrow(bytes: Uint8Array, warnings: FileWarnings): string | null {
  if (bytes.includes(0)) return null;
  const text = decode('utf-8', bytes);
  if (text !== null) return text;
  warnings.add({ code: 'latin-1' });
  return decode('windows-1252', bytes);
}

/** Decoded text without its byte-order mark, or null when the bytes are not of that encoding. */
function decode(label: string, bytes: Uint8Array): string | null {
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** The UTF-16 flavour by byte-order mark, or by zeros in every second byte of the start; null for other text. */
function utf16Of(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  const zeros = [0, 0];
  const looked = Math.min(bytes.length, 64) & ~1;
  for (let i = 0; i < looked; i++) if (bytes[i] === 0) zeros[i % 2]++;
  if (looked < 8) return null;
  if (zeros[0] === 0 && zeros[1] === looked / 2) return 'utf-16le';
  if (zeros[1] === 0 && zeros[0] === looked / 2) return 'utf-16be';
  return null;
}
