import type { Explanation } from '../identify/explain.ts';
import { fwhmEv } from '../detector/resolution.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { LimnerRecord } from './record.ts';

/** ISO 15632 states resolution at Mn K-L2,3; weighted mean of the doublet, eV. */
const MN_K_EV = 5895;

/** The settled axis and resolution with standard uncertainties from the fit's covariance. */
export function axisSummary(spectrum: Spectrum, { frame, round }: Explanation): LimnerRecord['axis'] {
  const { axis, detector } = round.instrument;
  const { elimination, artefacts, nuisances } = round;
  const sigma = (kind: string): number => {
    const i = nuisances.findIndex((nuisance) => nuisance.kind === kind);
    if (i < 0) return 0;
    const at = artefacts.length + i;
    return Math.sqrt(elimination.C[at * elimination.eliminated + at]);
  };
  const fwhm = fwhmEv(detector, MN_K_EV);
  const statistical = 8 * Math.LN2 * detector.fano * detector.pairEv * MN_K_EV;
  const fwhmSigma = Math.hypot(
    (detector.noiseEv / fwhm) * sigma('noise'),
    ((0.5 * statistical) / fwhm) * sigma('fano'),
  );
  return {
    offsetEv: { value: axis.offsetEv, sigma: sigma('offset') },
    gainEv: { value: axis.gainEv, sigma: sigma('gain') * axis.gainEv },
    header: { offsetEv: spectrum.axis.offsetEv, gainEv: spectrum.axis.gainEv },
    fwhmMnEv: { value: fwhm, sigma: fwhmSigma },
    rangeEv: [axis.offsetEv + axis.gainEv * frame.range.lo, axis.offsetEv + axis.gainEv * (frame.range.hi - 1)],
  };
}
