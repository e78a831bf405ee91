import { USUAL_INSTRUMENT } from '@limner/core';
import type { InstrumentState, SettingSummary } from '../instrument/calibration.ts';
import { cell, escape, listOf, row, table } from './report-parts.ts';

/** The report's part on the instrument: what its spectra together say of it, and how far that narrows what is usual. */
export function instrumentSection(settings: readonly SettingSummary[] | null): string {
  if (settings === null || settings.length === 0) return '';
  return ['<section><h2>The instrument</h2>', ...settings.map(settingPart), '</section>'].join('\n');
}

function settingPart(summary: SettingSummary): string {
  const { setting, spectra, asked, outlying, begins, ends, timed, scatter, lessons: findings, known } = summary;
  const told = `<h3>${escape(setting)}</h3>`;
  const contradictions = known.flatMap(({ file, contradictions }) => contradictions.map((text) => `${file}: ${text}`));
  const rest = [
    listOf('Known materials that the counts contradict', contradictions),
    listOf('Differ from the other spectra, and were left out', outlying),
  ];
  if (!begins || !ends) {
    const few = `<p>${plural(spectra)} of this setting: too few that tell, so each was read on its own.</p>`;
    return [told, few, ...rest].filter(Boolean).join('\n');
  }
  const [offset, gain, noise] = scatter as [number, number, number];
  return [
    told,
    `<p>${asked} of ${plural(spectra)} were asked what they say of axis and resolution; each was then read with what the others say.</p>`,
    table(
      [
        '',
        timed ? 'From the session, first to last' : 'From the session',
        'Uncertain by',
        'Usually by',
        'Scatter between spectra',
      ],
      [
        [
          'Offset, eV',
          range(begins, ends, ({ axis }) => axis.offsetEv, 1),
          `${begins.positionSigmaEv.toFixed(2)} (at ${(begins.pivotEv / 1000).toFixed(1)} keV)`,
          `${USUAL_INSTRUMENT.offsetEv}`,
          offset.toFixed(2),
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
          begins.noiseEv.sigma.toFixed(1),
          `${USUAL_INSTRUMENT.noiseEv} or more`,
          noise.toFixed(2),
        ],
      ].map(cells),
    ),
    findings.length > 0
      ? `<h3>What known materials changed</h3>${table(
          ['Quantity', 'By', 'Before', 'After'],
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
const relative = (value: number): string => `${(100 * value).toFixed(3)} %`;
const belief = ({ mean, sigma }: { mean: number; sigma: number }): string => `${mean.toFixed(3)} ± ${sigma.toFixed(3)}`;

function range(
  from: InstrumentState,
  to: InstrumentState,
  of: (state: InstrumentState) => number,
  digits: number,
): string {
  const [a, b] = [of(from).toFixed(digits), of(to).toFixed(digits)];
  return a === b ? a : `${a} to ${b}`;
}
