// Words on the instrument of a session.

import { USUAL } from '../../fit/instrument-prior.ts';
import type { Believed, ReferenceFinding } from '../../model/instrument-knowledge.ts';
import type { InstrumentState, SettingSummary } from '../../record/session-instrument.ts';
import type { EnergyAxis } from '../../spectrum/spectrum.ts';
import { cell, column, type Node, paragraph, row, section, table } from '../sections/tree.ts';
import { fixed, measured, trimmed } from '../terms/numerals.ts';
import { linesSection } from './report.ts';
import { spectraText } from './view.ts';

/** The name of a setting: spectra of the same axis, channels and detector are compared. @param detector '' where the header names none */
export const settingName = ({ gainEv, offsetEv }: EnergyAxis, channels: number, detector: string): string =>
  [`${gainEv} eV per channel from ${offsetEv} eV`, `${channels} channels`, detector].filter(Boolean).join(', ');

/** What the spectra of a session say about its instrument together, and how far that narrows what is usual. */
export const instrumentSection = (settings: readonly SettingSummary[]): Node | null =>
  section('instrument', 'The instrument', settings.map(settingSection));

function settingSection(summary: SettingSummary, i: number): Node | null {
  const { setting, spectra, asked, outlying, begins, ends, known } = summary;
  const id = (what: string): string => `${what}-${i + 1}`;
  const contradictions = known.flatMap(({ file, contradictions: its }) => its.map((text) => `${file}: ${text}`));
  const told =
    begins && ends
      ? [
          paragraph(
            id('asked'),
            `Axis and resolution were estimated from ${fixed(asked, 0)} of ${spectraText(spectra)}; each spectrum was then read with what the others had shown.`,
          ),
          stateTable(id('state'), summary, begins, ends),
          taughtSection(id('taught'), summary.lessons),
        ]
      : [
          paragraph(
            id('few'),
            `${spectraText(spectra)} with this setting: too few to calibrate from, so each was read on its own.`,
          ),
        ];
  return section(id('setting'), setting, [
    ...told,
    linesSection(id('contradictions'), 'Reference materials whose counts contradict the sheet', contradictions),
    linesSection(id('outlying'), 'Left out because they differ from the other spectra', outlying),
  ]);
}

function stateTable(id: string, { timed, scatter }: SettingSummary, begins: InstrumentState, ends: InstrumentState) {
  const [offset = NaN, gain = NaN, noise = NaN] = scatter;
  const range = (of: (state: InstrumentState) => number, decimals: number): string =>
    [...new Set([begins, ends].map((state) => fixed(of(state), decimals)))].join(' to ');
  const rows = [
    [
      'Offset, eV',
      range(({ axis }) => axis.offsetEv, 1),
      `${fixed(begins.positionSigmaEv, 2)} (at ${fixed(begins.pivotEv / 1000, 1)} keV)`,
      trimmed(USUAL.offsetEv, 3),
      fixed(offset, 2),
    ],
    [
      'Gain, eV per channel',
      range(({ axis }) => axis.gainEv, 4),
      relative(begins.gainSigma),
      relative(USUAL.gain),
      relative(gain),
    ],
    [
      'Noise (FWHM), eV',
      range(({ noiseEv }) => noiseEv.mean, 1),
      fixed(begins.noiseEv.sigma, 1),
      `${trimmed(USUAL.noiseEv, 3)} or more`,
      fixed(noise, 2),
    ],
  ];
  const columns = [
    column('quantity', ''),
    column('session', timed ? 'This session, first to last spectrum' : 'This session'),
    column('sigma', 'Uncertainty'),
    column('usual', 'Usual uncertainty'),
    column('scatter', 'Scatter between spectra'),
  ];
  return table(
    id,
    'Axis and resolution',
    columns,
    rows.map((texts, r) =>
      row(
        `${id}-${r + 1}`,
        texts.map((text) => cell(text)),
      ),
    ),
  );
}

/** A small relative quantity: percentages of a gain need three decimals. */
const relative = (value: number): string => `${fixed(100 * value, 3)}\u00a0%`;

const TAUGHT_COLUMNS = [
  column('quantity', 'Quantity'),
  column('by', 'From'),
  column('before', 'Before'),
  column('after', 'After'),
];

function taughtSection(id: string, findings: readonly ReferenceFinding[]): Node | null {
  const title = 'What reference materials changed';
  const rows = findings.map(({ quantity, by, before, after }, r) =>
    row(`${id}-${r + 1}`, [cell(quantity), cell(by.join(', ')), cell(belief(before)), cell(belief(after))]),
  );
  return section(id, title, [table(`${id}-table`, title, TAUGHT_COLUMNS, rows)]);
}

const belief = ({ mean, sigma }: Believed): string => measured({ value: mean, sigma });
