import type { InstrumentKnowledge } from '@limner/core';

/**
 * How far what is known of an instrument may have moved for a reading made with it to stand: a value by half of its standard uncertainty, an uncertainty by a
 * quarter of itself. A further spectrum among N moves a mean by about 1 / sqrt(N) of its uncertainty; half of it is well within what was not known anyway.
 */
export const [MOVED, WIDENED] = [0.5, 0.25];

type Believed = InstrumentKnowledge['fano'];

/** Whether a reading made with one stands for the other: all but the number of spectra behind it is the same, within the tolerance. */
export function agree(made: InstrumentKnowledge | null, now: InstrumentKnowledge | null): boolean {
  if (made === null || now === null) return made === now;
  return (
    made.thickWindow === now.thickWindow &&
    isSame(made.taught, now.taught) &&
    isNear(positionOf(made), { mean: made.pivotEv + shiftEv(made, now), sigma: now.positionSigmaEv }) &&
    isNear(gainOf(made, made), gainOf(now, made)) &&
    isNear(made.noiseEv, now.noiseEv) &&
    isNear(made.fano, now.fano) &&
    artefactsAgree(made.artefacts, now.artefacts)
  );
}

const positionOf = ({ pivotEv, positionSigmaEv }: InstrumentKnowledge): Believed => ({
  mean: pivotEv,
  sigma: positionSigmaEv,
});

/** How far the channel that stood at the pivot has moved, eV. */
function shiftEv({ axis, pivotEv }: InstrumentKnowledge, now: InstrumentKnowledge): number {
  const channel = (pivotEv - axis.offsetEv) / axis.gainEv;
  return now.axis.offsetEv + now.axis.gainEv * channel - pivotEv;
}

/** Relative to another's. */
const gainOf = ({ axis, gainSigma }: InstrumentKnowledge, to: InstrumentKnowledge): Believed => ({
  mean: axis.gainEv / to.axis.gainEv,
  sigma: gainSigma,
});

const isNear = (made: Believed, now: Believed): boolean =>
  Math.abs(now.mean - made.mean) <= MOVED * made.sigma && Math.abs(now.sigma - made.sigma) <= WIDENED * made.sigma;

function artefactsAgree(made: InstrumentKnowledge['artefacts'], now: InstrumentKnowledge['artefacts']): boolean {
  const names = new Set([...Object.keys(made), ...Object.keys(now)]) as Set<keyof typeof made>;
  return [...names].every((name) => {
    const [a, b] = [made[name], now[name]];
    return a !== undefined && b !== undefined && isNear(a, b);
  });
}

/** Of the reference materials: they are not pooled with the other spectra. */
const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
