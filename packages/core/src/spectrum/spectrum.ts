import type { EnergyAxis } from './energy-axis.ts';
import type { FileWarning } from './file-warning.ts';

export type { EnergyAxis } from './energy-axis.ts';

/** One measured (or simulated) spectrum: counts per channel on a linear energy axis, with what its file said about it. */
export interface Spectrum {
  /** Where the bytes came from. `sha256` is of the input bytes, lower-case hex; empty when the spectrum was not read from bytes. */
  readonly source: { readonly name: string; readonly sha256: string };
  readonly title: string;
  /** Counts per channel; finite, >= 0, length n. Not necessarily integers (means of repeats occur). */
  readonly counts: Float64Array;
  readonly axis: EnergyAxis;
  /** Beam energy (acceleration voltage), keV; null when the file does not say. */
  readonly beamKev: number | null;
  /** Live and real time, s; null when not given. */
  readonly liveTimeS: number | null;
  readonly realTimeS: number | null;
  /** Probe current, nA; null when absent or written as 0 (= not measured). */
  readonly probeCurrentNa: number | null;
  /** Take-off (detector elevation) angle, degrees; null when not given. */
  readonly takeOffDeg: number | null;
  /** Detector facts of the standard's keywords, thicknesses in cm as the standard has them; null when not given. */
  readonly detector: DetectorHeader;
  /** Every header line as read, in order: keyword (upper case, unit stripped), unit text or '', value text; private keywords keep their '##'. */
  readonly header: readonly HeaderEntry[];
  /** What was read leniently, and what should be looked at, as data; `fileWarningText` words it. */
  readonly warnings: readonly FileWarning[];
}

/** What the text of an input says, without where it came from and what is to be said about it. */
export type Content = Omit<Spectrum, 'source' | 'warnings'>;

export interface DetectorHeader {
  /** EDSDET text, e.g. 'SIUTW'; '' when absent. */
  readonly type: string;
  readonly berylliumWindowCm: number | null;
  readonly aluminiumLayerCm: number | null;
  readonly goldLayerCm: number | null;
  readonly deadLayerCm: number | null;
  readonly activeLayerCm: number | null;
  readonly windowCm: number | null;
}

export interface HeaderEntry {
  readonly key: string;
  readonly unit: string;
  readonly value: string;
}
