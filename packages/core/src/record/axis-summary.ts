import { fwhmEv } from '../detector/resolution.ts';
import type { InstrumentMove } from '../fit/layout.ts';
import { instrumentOf } from '../fit/spectrum-fit.ts';
import type { Explanation } from '../identify/explain.ts';
import type { InstrumentKnowledge } from '../model/instrument-knowledge.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { narrowed } from './shared-instrument.ts';
import type { LimnerRecord } from './record.ts';

/** ISO 15632 states resolution at Mn K-L2,3; weighted mean of the doublet, eV. */
const MN_K_EV = 5895;

/** The settled axis and resolution with standard uncertainties from the fit's covariance. */
export function axisSummary(
  spectrum: Spectrum,
  { frame, fit }: Explanation,
  known: InstrumentKnowledge | null,
): LimnerRecord['axis'] {
  const { axis, detector } = instrumentOf(fit);
  const { layout } = fit.design;
  const covariance = (a: InstrumentMove, b: InstrumentMove): number =>
    fit.fit.covariance[layout.indexOf(a) * layout.size + layout.indexOf(b)];
  const sigma = (kind: InstrumentMove): number => Math.sqrt(covariance(kind, kind));
  const fwhm = fwhmEv(detector, MN_K_EV);
  // Noise and Fano factor trade width for width, so their covariance matters.
  const byNoise = detector.noiseEv / fwhm;
  const byFano = (0.5 * 8 * Math.LN2 * detector.fano * detector.pairEv * MN_K_EV) / fwhm;
  const variance =
    byNoise ** 2 * covariance('noise', 'noise') +
    2 * byNoise * byFano * covariance('noise', 'fano') +
    byFano ** 2 * covariance('fano', 'fano');
  const fwhmSigma = Math.sqrt(Math.max(0, variance));
  // The fit moves the axis at the pivot and turns it there; channel 0 moves with both.
  const arm = axis.offsetEv - (fit.at.prior.pivotEv ?? axis.offsetEv);
  const offsetVariance =
    covariance('offset', 'offset') + 2 * arm * covariance('offset', 'gain') + arm ** 2 * covariance('gain', 'gain');
  const offsetSigma = Math.sqrt(Math.max(0, offsetVariance));
  return {
    offsetEv: { value: axis.offsetEv, sigma: offsetSigma },
    gainEv: { value: axis.gainEv, sigma: sigma('gain') * axis.gainEv },
    correlation: Math.max(
      -1,
      Math.min(
        1,
        (covariance('offset', 'gain') + arm * covariance('gain', 'gain')) / (offsetSigma * sigma('gain')) || 0,
      ),
    ),
    header: { offsetEv: spectrum.axis.offsetEv, gainEv: spectrum.axis.gainEv },
    fwhmMnEv: { value: fwhm, sigma: fwhmSigma },
    rangeEv: [axis.offsetEv + axis.gainEv * frame.range.lo, axis.offsetEv + axis.gainEv * (frame.range.hi - 1)],
    shared: narrowed(known, fit.zs),
  };
}
