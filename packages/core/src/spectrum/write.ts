import { writeDecimal } from './decimal.ts';
import { fieldsOf, type HeaderFields } from './emsa-fields.ts';
import { EmsaHeader } from './emsa-header.ts';
import { unitIn } from './axis-rules.ts';
import { REQUIRED_KEYWORDS } from './keywords.ts';
import { FileWarnings } from './file-warning.ts';
import type { HeaderEntry, Spectrum } from './spectrum.ts';

/** The standard ends lines with carriage return and line feed (from memory). */
const LINE_END = '\r\n';
/** Columns of keyword and unit in front of the colon (from memory). */
const KEYWORD_WIDTH = 13;

/**
 * EMSA/MAS text of a spectrum (ISO 22029), to be stored as UTF-8: the required keywords in the order of the standard, then
 * all others of the spectrum's header in theirs, then the counts, one per line. Reading it gives the same counts, axis,
 * fields and keywords. CHECKSUM is left out: it belongs to the bytes it was made of.
 */
export function writeEmsa(spectrum: Spectrum): string {
  const header = withFields(spectrum);
  const written: HeaderEntry[] = [
    ...required(spectrum, header),
    ...header.filter((entry, i) => !isRequired(entry.key) || (isFree(entry.key) && !isFirst(header, i))),
  ];
  const lines = written.filter(({ key }) => key !== 'CHECKSUM').map(keywordLine);
  lines.push(keywordLine({ key: 'SPECTRUM', unit: '', value: 'Spectral Data Starts Here' }));
  for (const value of spectrum.counts) lines.push(String(value));
  lines.push(keywordLine({ key: 'ENDOFDATA', unit: '', value: 'End Of Data and File' }), '');
  return lines.join(LINE_END);
}

const FREE = ['TITLE', 'DATE', 'TIME', 'OWNER', 'YUNITS'];

function isFree(key: string): boolean {
  return FREE.includes(key);
}

function isRequired(key: string): boolean {
  return (REQUIRED_KEYWORDS as readonly string[]).includes(key);
}

function isFirst(header: readonly HeaderEntry[], index: number): boolean {
  return header.findIndex(({ key }) => key === header[index].key) === index;
}

/** The required block: what describes this file is made anew, the rest is the spectrum's. */
function required(spectrum: Spectrum, header: readonly HeaderEntry[]): HeaderEntry[] {
  const own = (key: string): HeaderEntry | undefined => header.find((entry) => entry.key === key);
  const unit = unitIn(own('XUNITS')?.value.slice(0, 200) ?? '') === 'keV' ? 'keV' : 'eV';
  const shift = unit === 'keV' ? 3 : 0;
  const made: Record<string, string> = {
    FORMAT: 'EMSA/MAS Spectral Data File',
    VERSION: '1.0',
    NPOINTS: String(spectrum.counts.length),
    NCOLUMNS: '1',
    XUNITS: unit,
    DATATYPE: 'Y',
    XPERCHAN: writeDecimal(spectrum.axis.gainEv, shift),
    OFFSET: writeDecimal(spectrum.axis.offsetEv, shift),
  };
  return REQUIRED_KEYWORDS.map((key) => {
    if (made[key] !== undefined) return { key, unit: '', value: made[key] };
    return own(key) ?? { key, unit: '', value: key === 'YUNITS' ? 'counts' : '' };
  });
}

/** The header, with entries for those fields of the spectrum that it does not say, or says differently. */
function withFields(spectrum: Spectrum): HeaderEntry[] {
  const fields: readonly [string, string, string | number | null, (said: HeaderFields) => string | number | null][] = [
    ['TITLE', '', spectrum.title, (said) => said.title],
    ['BEAMKV', 'kV', spectrum.beamKev, (said) => said.beamKev],
    ['PROBECUR', 'nA', spectrum.probeCurrentNa, (said) => said.probeCurrentNa],
    ['ELEVANGLE', 'dg', spectrum.takeOffDeg, (said) => said.takeOffDeg],
    ['LIVETIME', 's', spectrum.liveTimeS, (said) => said.liveTimeS],
    ['REALTIME', 's', spectrum.realTimeS, (said) => said.realTimeS],
    ['EDSDET', '', spectrum.detector.type, (said) => said.detector.type],
    ['TBEWIND', 'cm', spectrum.detector.berylliumWindowCm, (said) => said.detector.berylliumWindowCm],
    ['TALWIND', 'cm', spectrum.detector.aluminiumLayerCm, (said) => said.detector.aluminiumLayerCm],
    ['TAUWIND', 'cm', spectrum.detector.goldLayerCm, (said) => said.detector.goldLayerCm],
    ['TDEADLYR', 'cm', spectrum.detector.deadLayerCm, (said) => said.detector.deadLayerCm],
    ['TACTLYR', 'cm', spectrum.detector.activeLayerCm, (said) => said.detector.activeLayerCm],
    ['THCWIND', 'cm', spectrum.detector.windowCm, (said) => said.detector.windowCm],
  ];
  const said = saidBy(spectrum.header);
  const header = [...spectrum.header];
  if (!header.some(({ key }) => key === 'SIGNALTYPE')) header.push({ key: 'SIGNALTYPE', unit: '', value: 'EDS' });
  for (const [key, unit, value, read] of fields) {
    if (read(said) === value) continue;
    const entry = { key, unit, value: value === null ? '' : String(value) };
    const at = header.findIndex((other) => other.key === key);
    if (at < 0) header.push(entry);
    else header[at] = entry;
  }
  return header;
}

function saidBy(entries: readonly HeaderEntry[]): HeaderFields {
  const warnings = new FileWarnings();
  const header = new EmsaHeader(warnings);
  for (const entry of entries) header.add(entry, null);
  return fieldsOf(header, warnings);
}

/** '#BEAMKV   -kV: 15': the unit, if any, ends at the colon. A private keyword's unit stands after a blank. */
function keywordLine({ key, unit, value }: HeaderEntry): string {
  const name = key.startsWith('##') ? key : `#${key}`;
  const glued = unit === '' ? '' : `-${unit}`;
  const gap = key.startsWith('##') && glued !== '' ? 1 : 0;
  const padding = ' '.repeat(Math.max(gap, KEYWORD_WIDTH - name.length - glued.length));
  return `${name}${padding}${glued}: ${value}`.replace(/[\r\n]+/g, ' ').trimEnd();
}
