import { sumOver } from '../arithmetic/sum.ts';
import { siliconFluorescence } from '../detector/silicon-fluorescence.ts';
import { SILICON_K_ALPHA_EV, SILICON_K_EDGE_EV } from '../detector/silicon-k.ts';
import type { Column } from './column.ts';
import { efficiencyTable } from './efficiency-table.ts';
import type { Instrument } from './instrument.ts';
import { addLine, lineNature, newLineSum } from './line-columns.ts';
import { lifted } from './slate.ts';

/** Ratio of neighbouring energies between which the false peak per count is taken as straight: it changes slowly above the edge. */
const STEP = 1.05;

/**
 * The false Si K peak of the detector's own silicon, dead layer and grid, that recorded counts bring with them.
 * A coefficient of 1 is what the detector's layers give; the dead layer is known within a factor of two.
 * @param model expected counts per channel, > 0 in [lo, hi)
 */
export function detectorSiliconColumn(model: Float64Array, lo: number, hi: number, instrument: Instrument): Column {
  const { axis, detector } = instrument;
  const table = efficiencyTable(detector);
  let counts = 0;
  let fromEv = SILICON_K_EDGE_EV + 1;
  let [toEv, atFrom, atTo] = [0, 0, 0];
  const first = Math.max(lo, Math.ceil((fromEv - axis.offsetEv) / axis.gainEv));
  for (let i = first; i < hi; i++) {
    const energy = axis.offsetEv + axis.gainEv * i;
    if (energy > toEv) {
      fromEv = toEv === 0 ? fromEv : toEv;
      toEv = Math.max(energy, fromEv * STEP);
      atFrom = siliconFluorescence(detector, fromEv) / table.at(fromEv);
      atTo = siliconFluorescence(detector, toEv) / table.at(toEv);
    }
    counts += model[i] * (atFrom + ((atTo - atFrom) * (energy - fromEv)) / (toEv - fromEv));
  }
  const sum = newLineSum(model.length, false);
  addLine(sum, instrument, lineNature(SILICON_K_ALPHA_EV, 0), counts, 1);
  return lifted(sum.value);
}

/** Al K-L3 and the K edge of aluminium, eV. Source: X-Ray Data Booklet, tables 1-2 and 1-1. */
const ALUMINIUM_K_ALPHA_EV = 1486.7;
const ALUMINIUM_K_EDGE_EV = 1559.6;

/**
 * The false Al K peak of aluminium in the detector (contact, collimator, window grid). A coefficient of 1 is one count for each
 * recorded count above the edge: how much aluminium the beam meets is not stated anywhere, so the prior of the coefficient is measured.
 * @param model expected counts per channel, > 0 in [lo, hi)
 */
export function detectorAluminiumColumn(model: Float64Array, lo: number, hi: number, instrument: Instrument): Column {
  const { axis } = instrument;
  const first = Math.max(lo, Math.ceil((ALUMINIUM_K_EDGE_EV - axis.offsetEv) / axis.gainEv));
  const counts = sumOver(model, first, hi);
  const sum = newLineSum(model.length, false);
  addLine(sum, instrument, lineNature(ALUMINIUM_K_ALPHA_EV, 0), counts, 1);
  return lifted(sum.value);
}

/** N K-L2,3, eV. Source: X-Ray Data Booklet, table 1-2. */
const NITROGEN_K_ALPHA_EV = 392.4;

/** A peak at the place of N K; a coefficient of 1 is one count for each count of the spectrum. */
export function softBumpColumn(model: Float64Array, lo: number, hi: number, instrument: Instrument): Column {
  const counts = sumOver(model, lo, hi);
  const sum = newLineSum(model.length, false);
  addLine(sum, instrument, lineNature(NITROGEN_K_ALPHA_EV, 0), counts, 1);
  return lifted(sum.value);
}
