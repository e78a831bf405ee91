import { ascending } from '../arithmetic/order.ts';
import { sumOver } from '../arithmetic/sum.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';

/** Below may lie a zero peak and noise, and nothing that tubes excite well, eV: such counts are left out of the total. */
const COUNTED_FROM_EV = 400;
/** Between the soft lines and a fifth of the beam energy electrons leave the most continuum, eV. */
const FROM_EV = 1000;
const LEAST_END_EV = 2200;
const END_FRACTION = 0.22;
const BLOCK_EV = 400;
/** Channels of a block that hold the fewest counts, where no line is: this part of them. */
const EMPTIEST = 0.3;
/**
 * Continuum there, counts per eV and count above that: electrons of 5 to 30 keV leave 14e-6 (thin flakes) to 100e-6 in 26 measured
 * spectra of ten sources, X-rays 0 to 9.4e-6 in 24 computed ones (tubes of Mo, Rh and W at 25 to 50 kV on paint and metals, with xraylib).
 */
const LEAST_BY_ELECTRONS = 11e-6;
/** Counts per channel that electrons must leave, lest too few are counted to tell. */
const TELLING_COUNTS = 4;
/** Scanning microscopes reach 30 kV, transmission microscopes begin at 60 kV: what ends between them was no electron beam. */
const NO_ELECTRONS = { fromEv: 31_500, toEv: 60_000 };

/**
 * Whether the counts lack the continuum that electrons bring: lines excited by X-rays stand on scattered photons only, and these are few
 * at low energies. False where too few counts could tell, and for transmission microscopes.
 * @param beamEv beam energy, or where the continuum ends, eV
 */
export function lacksContinuum(counts: Float64Array, axis: EnergyAxis, beamEv: number): boolean {
  if (beamEv >= NO_ELECTRONS.toEv) return false;
  const photons = Math.max(0, Math.ceil((COUNTED_FROM_EV - axis.offsetEv) / axis.gainEv));
  const total = sumOver(counts, photons);
  if (LEAST_BY_ELECTRONS * total * axis.gainEv < TELLING_COUNTS) return false;
  if (beamEv > NO_ELECTRONS.fromEv) return true;
  const levels = emptiest(counts, axis, FROM_EV, Math.max(LEAST_END_EV, END_FRACTION * beamEv));
  if (levels.length < 3) return false;
  const level = levels.sort(ascending)[Math.floor(levels.length / 2)];
  return level < LEAST_BY_ELECTRONS * total;
}

/** Mean counts per eV of the emptiest channels of each block. */
function emptiest(counts: Float64Array, { offsetEv, gainEv }: EnergyAxis, fromEv: number, toEv: number): number[] {
  const channel = (energyEv: number): number => Math.round((energyEv - offsetEv) / gainEv);
  const out: number[] = [];
  for (let from = fromEv; from + BLOCK_EV <= toEv && channel(from + BLOCK_EV) <= counts.length; from += BLOCK_EV) {
    const block = counts.slice(Math.max(0, channel(from)), channel(from + BLOCK_EV)).sort();
    const kept = block.subarray(0, Math.max(2, Math.floor(EMPTIEST * block.length)));
    if (block.length > 4) out.push(sumOver(kept) / kept.length / gainEv);
  }
  return out;
}
