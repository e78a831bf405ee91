import { fixed, measured, USUAL_INSTRUMENT } from '@limner/core';
import type { InstrumentState, SettingSummary } from '../instrument/calibration.ts';
import { cell, escape, listOf, row, table } from './report-parts.ts';

/** The report's section on the instrument: what its spectra say about it together, and how far that narrows what is usual. */
export function instrumentSection(settings: readonly SettingSummary[] | null): string {
  if (settings === null || settings.length === 0) return '';
  return ['<section><h2>The instrument</h2>', ...settings.map(settingPart), '</section>'].join('\n');
}

function settingPart(summary: SettingSummary): string {
  const { setting, spectra, asked, outlying, begins, ends, timed, scatter, lessons: findings, known } = summary;
  const heading = `<h3>${escape(setting)}</h3>`;
  const contradictions = known.flatMap(({ file, contradictions }) => contradictions.map((text) => `${file}: ${text}`));
  const rest = [
    listOf('Reference materials whose counts contradict the sheet', contradictions),
    listOf('Left out, as they differ from the other spectra', outlying),
  ];
  if (!begins || !ends) {
    const few = `<p>${plural(spectra)} with this setting: too few to calibrate from, so each was read on its own.</p>`;
    return [heading, few, ...rest].filter(Boolean).join('\n');
  }
  const [offset, gain, noise] = scatter as [number, number, number];
  return [
    heading,
    `<p>Axis and resolution were estimated from ${asked} of ${plural(spectra)}; each spectrum was then read with what the others show.</p>`,
    table(
      [
        '',
        timed ? 'This session, first to last spectrum' : 'This session',
        'Uncertainty',
        'Usual uncertainty',
        'Scatter between spectra',
      ],
      [
        [
          'Offset, eV',
          range(begins, ends, ({ axis }) => axis.offsetEv, 1),
          `${fixed(begins.positionSigmaEv, 2)} (at ${fixed(begins.pivotEv / 1000, 1)} keV)`,
          `${USUAL_INSTRUMENT.offsetEv}`,
          fixed(offset, 2),
        ],
        [
          'Gain, eV per channel',
          range(begins, ends, ({ axis }) => axis.gainEv, 4),
          relative(begins.gainSigma),
          relative(USUAL_INSTRUMENT.gain),
          relative(gain),
        ],
        [
          'Noise (FWHM), eV',
          range(begins, ends, ({ noiseEv }) => noiseEv.mean, 1),
          fixed(begins.noiseEv.sigma, 1),
          `${USUAL_INSTRUMENT.noiseEv} or more`,
          fixed(noise, 2),
        ],
      ].map(cells),
    ),
    findings.length > 0
      ? `<h3>What reference materials changed</h3>${table(
          ['Quantity', 'From', 'Before', 'After'],
          findings.map(({ quantity, by, before, after }) =>
            cells([quantity, by.join(', '), belief(before), belief(after)]),
          ),
        )}`
      : '',
    ...rest,
  ]
    .filter(Boolean)
    .join('\n');
}

const cells = (texts: readonly string[]): string => row(texts.map((text) => cell(text)));
const plural = (count: number): string => `${count} ${count === 1 ? 'spectrum' : 'spectra'}`;
const relative = (value: number): string => `${fixed(100 * value, 3)} %`;
const belief = ({ mean, sigma }: { mean: number; sigma: number }): string => measured({ value: mean, sigma });

function range(
  from: InstrumentState,
  to: InstrumentState,
  of: (state: InstrumentState) => number,
  digits: number,
): string {
  const [a, b] = [fixed(of(from), digits), fixed(of(to), digits)];
  return a === b ? a : `${a} to ${b}`;
}
