import { sumOver } from '../arithmetic/sum.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { cholesky, inverseFromCholesky } from '../fit/cholesky.ts';
import type { ArtefactEstimate, InstrumentEstimate } from '../fit/shared-instrument.ts';
import type { RatioBelief, SharedArtefact } from '../model/instrument-knowledge.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import type { Explanation } from './explain.ts';

const KINDS = ['offset', 'gain', 'noise', 'fano'] as const;
const SIZE = KINDS.length;
const SHARED: readonly SharedArtefact[] = ['charge shelf', 'detector silicon', 'sum peaks'];

/**
 * What an explanation of a spectrum read on its own says of the instrument, its priors taken out again: information adds up over
 * spectra, priors would be counted many times.
 */
export function instrumentEstimate(
  spectrum: Spectrum,
  { fit, thickWindow }: Pick<Explanation, 'fit' | 'thickWindow'>,
): InstrumentEstimate {
  const { at, design } = fit;
  const { axis, detector } = at.instrument;
  const header = spectrum.axis;
  const index = KINDS.map((kind) => design.layout.indexOf(kind));
  const here = [
    axis.offsetEv - header.offsetEv,
    axis.gainEv / header.gainEv - 1,
    detector.noiseEv,
    detector.fano / DEFAULT_DETECTOR.fano - 1,
  ];
  const { coefficients, covariance } = fit.fit;
  const p = design.layout.size;
  const block = Float64Array.from(
    { length: SIZE * SIZE },
    (_, i) => covariance[index[Math.floor(i / SIZE)] * p + index[i % SIZE]],
  );
  const information = inverseFromCholesky(cholesky(block, SIZE), SIZE);
  const vector = KINDS.map((_, i) =>
    KINDS.reduce((sum, _kind, j) => sum + information[i * SIZE + j] * (here[j] + coefficients[index[j]]), 0),
  );
  KINDS.forEach((kind, i) => {
    const { mean, sigma } = at.prior[kind];
    // Rounding may leave a little less than nothing where the counts say nothing.
    const own = Math.min(1 / sigma ** 2, information[i * SIZE + i]);
    information[i * SIZE + i] -= own * (1 - 1e-6);
    vector[i] -= own * (1 - 1e-6) * (here[i] + mean);
  });
  const live = spectrum.liveTimeS;
  const total = sumOver(spectrum.counts);
  return {
    header,
    information: [...information],
    vector,
    artefacts: artefactEstimates({ fit }),
    ratios: ratioEstimates({ fit }),
    thickWindow,
    rate: live !== null && live > 0 ? total / live : null,
  };
}

function artefactEstimates({ fit }: Pick<Explanation, 'fit'>): ArtefactEstimate[] {
  const { layout } = fit.design;
  return SHARED.flatMap((name) => {
    const i = layout.artefacts.findIndex((artefact) => artefact.name === name);
    const prior = i < 0 ? null : layout.artefacts[i].prior;
    const own = prior && dataAlone(fit, layout.artefact(i), prior, WORTH_SHARING);
    return own ? [{ name, ...own }] : [];
  });
}

/** Ratios of families and groups as this spectrum has them, without their priors; those of which it says something. */
function ratioEstimates({ fit }: Pick<Explanation, 'fit'>): RatioBelief[] {
  const { layout } = fit.design;
  return layout.nuisances.flatMap(({ kind, owner, label, mean, sigma }, i) => {
    if (kind !== 'family-ratio' && kind !== 'group-ratio') return [];
    const own = dataAlone(fit, layout.nuisance(i), { mean, sigma });
    return own
      ? [{ z: owner, kind, label, mean: own.value, sigma: 1 / Math.sqrt(own.information), usualSigma: sigma }]
      : [];
  });
}

/** The counts must say at least this part of what a prior says, to be worth telling. */
const WORTH_TELLING = 1e-3;
/** Coefficients that cannot be negative are biased where the counts hardly know them: these must know as much as the prior. */
const WORTH_SHARING = 1;

function dataAlone(
  { fit, design }: Explanation['fit'],
  i: number,
  prior: { readonly mean: number; readonly sigma: number },
  worth = WORTH_TELLING,
): { value: number; information: number } | null {
  const variance = fit.covariance[i * design.layout.size + i];
  const before = 1 / prior.sigma ** 2;
  const information = 1 / variance - before;
  if (!(information > worth * before)) return null;
  return { value: (fit.coefficients[i] / variance - prior.mean * before) / information, information };
}

/** How far the counts pull the instrument from its prior: the quantity pulled most, in prior standard deviations. */
export function instrumentPull({ fit }: Pick<Explanation, 'fit'>): {
  readonly quantity: (typeof KINDS)[number];
  readonly sigmas: number;
} {
  const { at, design } = fit;
  const pulls = KINDS.map((kind) => {
    const { mean, sigma } = at.prior[kind];
    const moved = fit.fit.coefficients[design.layout.indexOf(kind)];
    return { quantity: kind, sigmas: Math.abs(moved - mean) / sigma };
  });
  return pulls.reduce((most, pull) => (pull.sigmas > most.sigmas ? pull : most));
}
