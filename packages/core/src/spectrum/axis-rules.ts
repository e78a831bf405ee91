import type { EnergyAxis, EnergyUnit } from './energy-axis.ts';

/** What a text says about the x axis: an energy unit, channel numbers, nothing of use, or something that is no energy. */
export type AxisUnit = EnergyUnit | 'channel' | 'unsaid' | 'other';

export const EV_PER_UNIT: Record<EnergyUnit, number> = { eV: 1, keV: 1000 };

/** Widths of a channel that an X-ray spectrum can have, eV; instruments use 2.5 to 40 (common practice, no source). */
const NARROWEST_EV = 0.5;
const WIDEST_EV = 500;
/** Widths that tell the unit by themselves, eV. */
const USUAL_EV = { least: 2, most: 100 };
/** Energies further out belong to no X-ray spectrum of an electron microscope, eV. */
const FARTHEST_EV = 1e6;

/** Reads the unit out of free text such as 'keV', 'Energy (eV)' or 'channel'. */
export function unitIn(text: string): AxisUnit {
  const words = text.toLowerCase();
  if (/(?<![a-z])kev(?![a-z])/.test(words)) return 'keV';
  if (/(?<![a-z])ev(?![a-z])/.test(words)) return 'eV';
  if (/(?<![a-z])(?:channels?|chan|bins?|ch|adc)(?![a-z])/.test(words)) return 'channel';
  if (/(?<![a-z])[mg]ev(?![a-z])/.test(words)) return 'other';
  return /^$|^[-\s]*$|energ|x-?ray|none|n\/a/.test(words) ? 'unsaid' : 'other';
}

export function isPlausible({ offsetEv, gainEv }: EnergyAxis, channels: number): boolean {
  const endEv = offsetEv + gainEv * channels;
  return gainEv >= NARROWEST_EV && gainEv <= WIDEST_EV && endEv > 0 && offsetEv > -FARTHEST_EV && endEv < FARTHEST_EV;
}

/** The one energy unit in which this channel width is usual, or null. A width of exactly 1 counts channels. */
export function unitByWidth(gain: number): EnergyUnit | null {
  const usual = (unit: EnergyUnit): boolean =>
    gain * EV_PER_UNIT[unit] >= USUAL_EV.least && gain * EV_PER_UNIT[unit] <= USUAL_EV.most;
  if (gain === 1) return null;
  return usual('keV') ? 'keV' : usual('eV') ? 'eV' : null;
}

/** 'offset -200 eV, 10 eV per channel', for messages. */
export function axisText({ offsetEv, gainEv }: EnergyAxis): string {
  return `offset ${Number(offsetEv.toPrecision(7))} eV, ${Number(gainEv.toPrecision(7))} eV per channel`;
}
