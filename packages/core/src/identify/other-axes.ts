import type { EnergyAxis } from '../spectrum/spectrum.ts';

// Axes that are tried beside the stated one, and what speaks against each before the counts do.

/** Two line's widths apart at 10 keV and at 0, up to 6 % and 100 eV from the stated one. */
const GAIN_STEPS = 8;
const GAIN_STEP = 0.0075;
const OFFSET_STEPS = 2;
const OFFSET_STEP_EV = 50;

export function otherAxes({ offsetEv, gainEv }: EnergyAxis): EnergyAxis[] {
  const axes: EnergyAxis[] = [];
  for (let g = -GAIN_STEPS; g <= GAIN_STEPS; g++)
    for (let o = -OFFSET_STEPS; o <= OFFSET_STEPS; o++)
      axes.push({ gainEv: gainEv * (1 + g * GAIN_STEP), offsetEv: offsetEv + o * OFFSET_STEP_EV });
  return axes;
}

/**
 * One file in some thousand states a wrong axis, and there are many wrong ones to choose from: -2 ln of the odds, for one near the stated
 * axis. The further it lies, the less likely it is; a spectrum with one strong line has another axis for every place of that line.
 */
const WRONG_AXIS_PENALTY = 30;
const FURTHER_PENALTY = 15;
/** Steps of gain (relative) and of offset, eV, that make it as much less likely. */
const FURTHER_GAIN = 0.01;
const FURTHER_OFFSET_EV = 50;

/** -2 ln of the odds that an axis so far from the stated one is the right one. */
export function penaltyOf(stated: EnergyAxis, axis: EnergyAxis): number {
  const gain = (axis.gainEv / stated.gainEv - 1) / FURTHER_GAIN;
  const offset = (axis.offsetEv - stated.offsetEv) / FURTHER_OFFSET_EV;
  return WRONG_AXIS_PENALTY + FURTHER_PENALTY * Math.hypot(gain, offset);
}
