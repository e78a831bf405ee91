import { Type, type Static } from 'typebox';

/** A line that could make a peak. */
export const LineCandidate = Type.Object({
  symbol: Type.String(),
  z: Type.Integer(),
  line: Type.String(),
  siegbahn: Type.Union([Type.String(), Type.Null()]),
  energyEv: Type.Number(),
  /** Line energy minus peak energy, eV. */
  distanceEv: Type.Number(),
  /** Intensity inside its subshell, 0 to 1. */
  relative: Type.Number(),
});
export type LineCandidate = Static<typeof LineCandidate>;

/** A peak found blind, without any element in mind. */
export const Peak = Type.Object({
  energyEv: Type.Number(),
  energySigmaEv: Type.Number({ minimum: 0 }),
  fwhmEv: Type.Number({ minimum: 0 }),
  counts: Type.Number(),
  sigma: Type.Number({ minimum: 0 }),
  /** Lines that could make it, nearest and strongest first. */
  candidates: Type.Array(LineCandidate),
  /** Elements and artefacts of the fit that carry it; empty when nothing explains it. */
  explainedBy: Type.Array(Type.String()),
});
export type Peak = Static<typeof Peak>;
