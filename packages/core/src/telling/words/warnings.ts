import type { Brightness } from '../../pigments/brightness.ts';
import { type OwnMaterials, replacedBy } from '../../pigments/own-materials.ts';
import type { FileWarning } from '../../spectrum/file-warning.ts';
import { POORLY_FITTED } from '../terms/cutoffs.ts';
import { counted, fixed, listed, trimmed } from '../terms/numerals.ts';
import { fileWarningText } from './file-warnings.ts';

/** A condition that weakens a result but does not stop it, as the record has it. */
export interface Warning {
  /** Stable, lower case with hyphens, e.g. 'npoints-mismatch'. */
  readonly code: string;
  readonly text: string;
}

/** What a conductor has to say about a spectrum and how it was read, as data. */
export type WarningData =
  | { readonly code: 'beam-above-continuum'; readonly usedKev: number; readonly statedKev: number }
  | { readonly code: 'beam-below-continuum'; readonly endKev: number; readonly statedKev: number }
  | { readonly code: 'beam-estimated' | 'beam-assumed'; readonly usedKev: number }
  | { readonly code: 'axis-corrected' | 'axis-wrong'; readonly gainEv: number; readonly offsetEv: number }
  | { readonly code: 'poor-fit'; readonly misfit: number }
  | { readonly code: 'photon-excited' | 'thin-foil' }
  | { readonly code: 'not-settled' | 'unfinished' | 'oxygen-by-oxides' | 'thick-window' }
  | {
      readonly code: 'instrument-differs';
      readonly quantity: 'offset' | 'gain' | 'noise' | 'fano';
      readonly sigmas: number;
    }
  | { readonly code: 'image-contradicts'; readonly said: Brightness['said'] }
  | { readonly code: 'not-looked-for'; readonly symbol: string }
  | { readonly code: 'exclusion-idle'; readonly symbols: readonly string[] }
  | { readonly code: 'own-materials'; readonly own: OwnMaterials };

/** A conductor's warning in words. */
export const wordedWarning = (data: WarningData): Warning => ({ code: data.code, text: warningText(data) });

/** What the reader of the file warned of, in words. */
export const wordedFileWarning = (warning: FileWarning): Warning => ({
  code: warning.code,
  text: fileWarningText(warning),
});

/** Whether a fit is poor enough to warn. @param misfit C over its expectation */
export const poorFit = (misfit: number): WarningData[] =>
  misfit > POORLY_FITTED ? [{ code: 'poor-fit', misfit }] : [];

const QUANTITIES = { offset: 'axis offset', gain: 'gain', noise: 'resolution', fano: 'resolution' } as const;

function warningText(data: WarningData): string {
  switch (data.code) {
    case 'beam-above-continuum': {
      const used = kev(data.usedKev);
      return `The continuum ends at about ${used}, below the stated beam energy of ${kev(data.statedKev)}: the specimen may have charged, or the stated energy is wrong. ${used} is used; lines above it cannot have been excited.`;
    }
    case 'beam-below-continuum':
      return `The continuum reaches about ${kev(data.endKev)}, above the stated beam energy of ${kev(data.statedKev)}: check the beam energy, and give the right one.`;
    case 'beam-estimated':
      return `The file does not give the beam energy; ${kev(data.usedKev)} is estimated from the end of the continuum. Give the beam energy if you know it.`;
    case 'beam-assumed':
      return `Neither the file nor the continuum gives the beam energy; ${kev(data.usedKev)} is assumed. Give the beam energy.`;
    case 'axis-corrected':
      return `The energy axis stated in the file is wrong: ${axisText(data)} fit the counts and are used instead. Check the calibration.`;
    case 'axis-wrong':
      return `The energy axis is wrong: on it the counts do not look like a spectrum, and nothing is called present. The best axis found is ${axisText(data)}; calibrate the axis by two known peaks.`;
    case 'poor-fit':
      return `The model does not fit to within counting noise (misfit ${fixed(data.misfit, 1)} times what noise alone would give): treat weak elements with caution.`;
    case 'not-settled':
      return 'The set of elements was still changing when the fit ended: treat the open ones with caution.';
    case 'unfinished':
      return 'Explaining these counts would take more work than one reading is allowed: it was stopped unfinished, and nothing is called present. Check that this is an X-ray spectrum, and check its axis and beam energy.';
    case 'oxygen-by-oxides':
      return 'The amount of oxygen is not measured: as you asked, it is taken from the usual oxides of the other elements.';
    case 'photon-excited':
      return 'There is hardly any continuum: the lines look excited by X-rays, not by electrons. Limner models electrons, so the amounts are not valid; only clear peaks are called present, and nothing where the model does not fit.';
    case 'thin-foil':
      return 'The beam energy is that of a transmission microscope: the specimen is treated as a thin foil that absorbs nothing. In a thick grain the soft lines would be weaker.';
    case 'thick-window':
      return 'The detector window passes nothing below about 0.9 keV: carbon, nitrogen, oxygen and fluorine cannot be judged. The specimen is assumed to contain the oxygen of the usual oxides.';
    case 'instrument-differs':
      return `The ${QUANTITIES[data.quantity]} of this spectrum lies ${fixed(data.sigmas, 0)} standard deviations from that of the other spectra of the session, so it was read on its own. Were the settings changed?`;
    case 'image-contradicts':
      return `The grain was said to look ${listed(orders(data.said))} in the backscatter image; the composition found here would not. Was it the same grain, and was it flat, thick and uncoated at that point?`;
    case 'not-looked-for':
      return `${data.symbol} is not among the elements looked for: no measurement is planned for it.`;
    case 'exclusion-idle':
      return `The explanation does not use ${listed(data.symbols, 'or')}, so excluding ${data.symbols.length > 1 ? 'them' : 'it'} changes nothing.`;
    case 'own-materials':
      return ownText(data.own);
  }
}

const axisText = ({ gainEv, offsetEv }: { readonly gainEv: number; readonly offsetEv: number }): string =>
  `${fixed(gainEv, 3)}\u00a0eV per channel and an offset of ${fixed(offsetEv, 0)}\u00a0eV`;

const kev = (value: number): string => `${trimmed(value, 4)}\u00a0keV`;

/** 'brighter than ground.msa' */
export const orders = (said: Brightness['said']): string[] =>
  said.map(({ order, name }) => `${order.replace('-', ' ')} ${name}`);

function ownText(own: OwnMaterials): string {
  const replaced = replacedBy(own);
  const count = `${counted(own.entries.length, 'material')} of your own (${own.file})`;
  const instead = replaced.length > 0 ? ` They replace ${listed(replaced)}.` : '';
  return `The table of materials includes ${count}.${instead}`;
}

/** Warnings that say how something was read, and take nothing from the reading. */
const HARMLESS = new Set([
  'axis-option-unused',
  'colon-missing',
  'columns-read',
  'datatype-mismatch',
  'format-missing',
  'keyword-in-data',
  'latin-1',
  'npoints-mismatch',
  'npoints-missing',
  'own-materials',
  'oxygen-by-oxides',
  'second-spectrum',
  'signal-type',
  'spectrum-missing',
  'stray-text',
  'text-after-end',
  'xunits-assumed',
]);

/** Whether a warning lowers the trust in a reading. */
export const lowersTrust = ({ code }: Pick<Warning, 'code'>): boolean => !HARMLESS.has(code);
