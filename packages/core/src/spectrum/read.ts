import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { readColumns } from './columns.ts';
import { decodeText } from './decode.ts';
import { readEmsa } from './emsa.ts';
import { EmsaError } from './emsa-error.ts';
import { parseKeywordLine } from './emsa-header.ts';
import { MAX_HEADER_LINES, MAX_INPUT_BYTES } from './limits.ts';
import { LineReader } from './line-reader.ts';
import { FileWarnings } from './file-warning.ts';
import type { EnergyAxis, Spectrum } from './spectrum.ts';

/** What the caller knows about the input of `readSpectrum`. */
export interface ReadOptions {
  /** Name of the input, kept as given. */
  readonly name?: string;
  /** Energy axis for input without one; an axis of the input's own comes first. */
  readonly axis?: EnergyAxis;
  /** Beam energy, keV; wins over the header. */
  readonly beamKev?: number;
}

/**
 * Reads a spectrum: EMSA/MAS (ISO 22029:2012, EMSA/MAS 1.0 of 1991), or rows of energy and counts.
 * @param bytes the file as it is, in UTF-8, UTF-16 or Latin-1; at most `MAX_INPUT_BYTES`
 * @throws EmsaError for anything else, with a stable code, the line where there is one, and what to do
 */
export function readSpectrum(bytes: Uint8Array, options: ReadOptions = {}): Spectrum {
  checkOptions(options);
  if (bytes.length > MAX_INPUT_BYTES) {
    throw new EmsaError({ code: 'too-large', bytes: bytes.length });
  }
  const warnings = new FileWarnings();
  const text = decodeText(bytes, warnings);
  const content = looksLikeEmsa(text)
    ? readEmsa(text, options.axis, warnings)
    : readColumns(text, options.axis, warnings);
  const beamKev = options.beamKev ?? content.beamKev;
  if (content.beamKev !== null && beamKev !== content.beamKev) {
    warnings.add({ code: 'beam-overridden', statedKv: content.beamKev, givenKv: beamKev! });
  }
  const source = { name: options.name ?? '', sha256: sha256Hex(bytes) };
  return { source, ...content, beamKev, warnings: warnings.list() };
}

function checkOptions({ axis, beamKev }: ReadOptions): void {
  if (axis !== undefined && !(axis.gainEv > 0 && Number.isFinite(axis.gainEv) && Number.isFinite(axis.offsetEv))) {
    throw new EmsaError({ code: 'axis-option' });
  }
  if (beamKev !== undefined && !(beamKev > 0 && Number.isFinite(beamKev))) {
    throw new EmsaError({ code: 'beam-option' });
  }
}

/** Keywords that only an EMSA/MAS file has; a plain table may well have a '# Title: ...' above it. */
const TELLING = ['FORMAT', 'NPOINTS', 'NCOLUMNS', 'XUNITS', 'DATATYPE', 'XPERCHAN', 'SPECTRUM', 'ENDOFDATA'];

/** Whether a telling keyword stands in front of the first row of numbers. */
function looksLikeEmsa(text: string): boolean {
  const reader = new LineReader(text);
  for (let line = reader.next(); line !== null && reader.line <= MAX_HEADER_LINES; line = reader.next()) {
    const trimmed = line.trim();
    if (/^[-+.\d]/.test(trimmed)) return false;
    if (trimmed.startsWith('#') && TELLING.includes(parseKeywordLine(trimmed).key)) return true;
  }
  return false;
}

/** The SHA-256 of bytes in lower-case hex, where no engine's own is at hand. */
export const sha256Hex = (bytes: Uint8Array): string => bytesToHex(sha256(bytes));
