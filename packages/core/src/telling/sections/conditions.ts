import type { LimnerRecord } from '../../record/record.ts';
import {
  LEAST_SHIFT_SIGMA_EV,
  MISFIT_SIGMAS,
  POORLY_FITTED,
  SHIFT_AT_EV,
  TOO_SMOOTH,
  WELL_FITTED,
} from '../terms/cutoffs.ts';
import { fixed, listed, measured, significant, trimmed } from '../terms/numerals.ts';
import { cell, column, type Node, paragraph, row, section, table } from './tree.ts';

/** How the spectrum was taken and how well the model explains it; in full also axis, range and fit. */
export function conditions(record: LimnerRecord): Node | null {
  return section('conditions', 'Measurement and fit', [
    paragraph('conditions-text', `${conditionsSentence(record)} ${fitSentence(record)}`),
    paragraph('axis-text', [axisSentence(record), smoothSentence(record)].filter(Boolean).join(' '), 'full'),
    facts(record),
  ]);
}

const ORIGINS = { header: '', option: ' (as given)', estimated: ' (estimated)', default: ' (assumed)' } as const;

/** Beam, counts and time. */
export function conditionsSentence({ conditions: given }: LimnerRecord): string {
  const { beamKev, totalCounts, channels, liveTimeS, mount } = given;
  const time = liveTimeS === null ? '' : ` in ${trimmed(liveTimeS, 3)}\u00a0s live time`;
  const mounting = mount.length > 0 ? `, mounting: ${mount.join(', ')}` : '';
  return `Beam ${trimmed(beamKev.value, 4)}\u00a0keV${ORIGINS[beamKev.origin]}, ${fixed(totalCounts, 0)} counts${time}, ${channels} channels${mounting}.`;
}

/** How far the file's energy axis was off, and the resolution. */
export function axisSentence({ axis }: LimnerRecord): string {
  const shifts = SHIFT_AT_EV.filter((energyEv) => energyEv > axis.rangeEv[0] && energyEv < axis.rangeEv[1]).map(
    (energyEv) => `${shiftText(axis, energyEv)} at ${energyEv / 1000}\u00a0keV`,
  );
  const moved = shifts.length > 0 ? `The energy axis was shifted from the file's by ${listed(shifts)}. ` : '';
  const told = axis.shared
    ? ` The axis and resolution also draw on ${axis.shared.spectra} other spectra of the session.`
    : '';
  return `${moved}Resolution: ${measured(axis.fwhmMnEv)}\u00a0eV (FWHM at 5.9\u00a0keV).${told}`;
}

function shiftText({ offsetEv, gainEv, correlation, header }: LimnerRecord['axis'], energyEv: number): string {
  const channel = (energyEv - offsetEv.value) / gainEv.value;
  const turned = channel * gainEv.sigma;
  const variance = offsetEv.sigma ** 2 + 2 * correlation * offsetEv.sigma * turned + turned ** 2;
  const sigma = Math.max(Math.sqrt(Math.max(0, variance)), LEAST_SHIFT_SIGMA_EV);
  const value = energyEv - (header.offsetEv + header.gainEv * channel);
  return `${measured({ value, sigma })}\u00a0eV`;
}

/** Fit quality in plain words. */
export function fitSentence({ fit }: LimnerRecord): string {
  const ratio = fit.c / fit.expected;
  const noise = fit.c - fit.expected < MISFIT_SIGMAS * Math.sqrt(fit.variance) || ratio < WELL_FITTED;
  const figures = `misfit ${significant(ratio, 3)} times what noise alone would give`;
  return noise
    ? 'The model explains the counts to within their noise.'
    : ratio < POORLY_FITTED
      ? `The model explains the counts almost to within their noise (${figures}).`
      : `The model does not fit to within counting noise (${figures}): treat weak elements with caution.`;
}

/** That channels are not independent counts; empty where they are. */
export const smoothSentence = ({ fit }: Pick<LimnerRecord, 'fit'>): string =>
  fit.dispersion < TOO_SMOOTH
    ? 'The counts scatter less than counting noise would: channels were averaged or re-binned before the file was written.'
    : '';

function facts({ axis, fit, conditions: { takeOffDeg } }: LimnerRecord): Node | null {
  const z = (fit.c - fit.expected) / Math.sqrt(fit.variance);
  const rows: readonly (readonly [id: string, name: string, value: string])[] = [
    ['offset', 'axis offset', `${measured(axis.offsetEv)}\u00a0eV (file: ${fixed(axis.header.offsetEv, 1)}\u00a0eV)`],
    ['gain', 'eV per channel', `${measured(axis.gainEv)} (file: ${fixed(axis.header.gainEv, 3)})`],
    ['range', 'fitted range', `${fixed(axis.rangeEv[0] / 1000, 2)} to ${fixed(axis.rangeEv[1] / 1000, 2)}\u00a0keV`],
    [
      'misfit',
      'misfit C',
      `${fixed(fit.c, 0)} where ${fixed(fit.expected, 0)}\u00a0±\u00a0${fixed(Math.sqrt(fit.variance), 0)} is expected (${fixed(z, 1)} standard deviations)`,
    ],
    [
      'fit',
      'fit',
      `${fixed(fit.channels, 0)} channels, ${fixed(fit.parameters, 0)} parameters, ${fit.converged ? 'converged' : 'not converged'} after ${fixed(fit.rounds, 0)} rounds`,
    ],
    ['take-off', 'take-off angle', `${trimmed(takeOffDeg.value, 3)}°${ORIGINS[takeOffDeg.origin]}`],
  ];
  return table(
    'fit-table',
    'Axis and fit',
    [column('name', ''), column('value', '')],
    rows.map(([id, name, value]) => row(`fit-${id}`, [cell(name), cell(value)], 'full')),
    'full',
  );
}
