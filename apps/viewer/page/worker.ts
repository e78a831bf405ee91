import {
  type Alternative,
  type Changes,
  emittedLines,
  type IdentifyOptions,
  linesHereText,
  linesOf,
  massFractionsOf,
  NOTHING_PLANNED,
  observationsIn,
  plannedName,
  plannedSpectra,
  type Reading,
  readReference,
  type ReferenceGrain,
  readingOf,
  readingTree,
  readSpectrum,
  type Spectrum,
  zOf,
} from '@limner/core';
import { pigmentsIn, referenceMaterial } from '@limner/session/given';
import { queryOf } from './changes/address.ts';
import type { Answer, Asked, Question, Source } from './reader.ts';
import type { MarkedLine, NamedSpectrum, PlainSpectrum, ReadingView } from './reading.ts';

/** Lines weaker than this part of the strongest of their shell are not marked. */
const FAINTEST = 0.01;
/** A common take-off angle; the order of the lines hardly depends on it. */
const TAKE_OFF_DEG = 35;

/** Reads spectra beside the page, so that it stays responsive; the bytes never leave the browser. */
self.addEventListener('message', (event: MessageEvent<Question>) => {
  const { ticket, ask } = event.data;
  let answer: Answer;
  try {
    answer = { ticket, ok: true, value: answerTo(ask) };
  } catch (error) {
    answer = { ticket, ok: false, message: error instanceof Error ? error.message : String(error) };
  }
  self.postMessage(answer);
});

function answerTo(
  ask: Question['ask'],
): ReadingView | Alternative | null | MarkedLine[] | number | number[] | PlainSpectrum | NamedSpectrum[] | string {
  switch (ask.kind) {
    case 'read':
      return viewOf(readingFor(ask), ask.changes);
    case 'alternative':
      return readingFor(ask).alternative(ask.symbol);
    case 'materials':
      return pigmentsIn(ask.bytes, ask.file).length;
    case 'reference':
      return referenceFrom(ask.bytes, ask, {}).name;
    case 'channels':
      return channelsOf(ask.source);
    case 'planned':
      return plannedFor(ask);
    case 'spectrum':
      return plainOf(spectrumOf(ask.source, ask.changes));
    case 'near':
      return linesHereText(ask.energyEv, ask.withinEv, ask.inFit);
    case 'lines':
      return linesToMark(ask.symbol, ask.beamKev);
  }
}

function viewOf({ record, curves }: Reading, changes: Changes): ReadingView {
  const told = queryOf(changes) === '' ? record : { ...record, changes };
  return { record: told, curves, tree: readingTree(told) };
}

/** Readings with their fits, for what is asked of them afterwards; a few MB each. */
const KEPT = 3;
const readings = new Map<string, Reading>();

function readingFor(asked: Asked): Reading {
  const { source, changes } = asked;
  const key = `${source.key}\n${queryOf(changes)}`;
  const reading = readings.get(key) ?? readingOf(spectrumOf(source, changes), optionsOf(asked));
  readings.delete(key);
  readings.set(key, reading);
  for (const oldest of readings.keys()) if (readings.size > KEPT) readings.delete(oldest);
  return reading;
}

function spectrumOf({ bytes, name, stated }: Source, { axis: changed, beamKev }: Changes): Spectrum {
  const axis = changed ?? stated.axis;
  return readSpectrum(bytes, { name, ...(axis && { axis }), ...(beamKev !== null && { beamKev }) });
}

const plainOf = ({ axis, counts, liveTimeS }: Spectrum): PlainSpectrum => ({
  ...axis,
  counts: Array.from(counts),
  liveTimeS,
});

/** Both explanations of each proposed measurement. */
function plannedFor(asked: Asked): NamedSpectrum[] {
  const { claim, without, mount, beamKev, takeOffDeg, instrument } = optionsOf(asked);
  const all = { claim, without, mount, beamKev, takeOffDeg, instrument };
  const options = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
  const planned = plannedSpectra(spectrumOf(asked.source, asked.changes), options);
  if (planned.length === 0) throw new Error(NOTHING_PLANNED);
  return planned.flatMap((one) =>
    [true, false].map((isThere) => ({
      name: plannedName(one, isThere),
      spectrum: {
        ...one.axis,
        counts: Array.from(isThere ? one.ifThere : one.ifNot),
        liveTimeS: null,
        planned: true as const,
      },
    })),
  );
}

function optionsOf({ source, changes, given }: Asked): IdentifyOptions {
  const { materials, references } = changes;
  const options = optionsWith(source.stated.options, changes);
  const all: IdentifyOptions = {
    ...options,
    // What the session knows is of the axis that its files state.
    ...(changes.axis && { instrument: null }),
    ...(materials && { pigments: { ...materials, entries: pigmentsIn(given[materials.sha256], materials.file) } }),
  };
  if (references.length === 0) return all;
  const read = references.map((one) => referenceFrom(given[one.sha256], one, all));
  return { ...all, references: [...(all.references ?? []), ...read] };
}

/** A known material, read as the spectrum is that is held against it. */
function referenceFrom(
  bytes: Uint8Array,
  { file, label }: { readonly file: string; readonly label: string },
  { mount, beamKev, takeOffDeg, instrument }: IdentifyOptions,
): ReferenceGrain {
  const known = referenceMaterial(label);
  const all = { mount, beamKev, takeOffDeg, instrument };
  const options = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
  return readReference(readSpectrum(bytes, { name: file }), { name: file, label, known }, options);
}

/** The counts of a file that states no axis; null for one that does. */
function channelsOf({ bytes, name, stated }: Source): number[] | null {
  try {
    readSpectrum(bytes, { name, ...(stated.axis && { axis: stated.axis }) });
    return null;
  } catch {
    return Array.from(readSpectrum(bytes, { name, axis: { gainEv: 1, offsetEv: 0 } }).counts);
  }
}

/** Changes come on top of what was stated when the viewer was started. */
function optionsWith(stated: IdentifyOptions, changes: Changes): IdentifyOptions {
  const { claim, without, mount, beamKev, dated } = changes;
  const claimed = claim.map(({ symbol, massFraction }) => (massFraction === null ? symbol : { symbol, massFraction }));
  const named = new Set(claim.map(({ symbol }) => symbol));
  const before = (stated.claim ?? []).filter((one) => !named.has(typeof one === 'string' ? one : one.symbol));
  const seen = observationsIn(Object.entries(changes.seen));
  return {
    ...stated,
    claim: [...before, ...claimed],
    without: [...new Set([...(stated.without ?? []), ...without])],
    mount: [...new Set([...(stated.mount ?? []), ...mount])],
    ...(seen && { seen: { ...stated.seen, ...seen } }),
    ...(beamKev !== null && { beamKev }),
    ...(dated !== null && { dated }),
  };
}

/** Lines as the pure element would emit them under this beam, so that the strong ones are marked first. */
function linesToMark(symbol: string, beamKev: number): MarkedLine[] {
  const z = zOf(symbol);
  if (z === undefined) throw new Error(`No element has the symbol ${symbol}.`);
  const photons = emittedLines(massFractionsOf(symbol), 1000 * beamKev, TAKE_OFF_DEG);
  const lines = linesOf(z).map((line) => ({ ...line, shell: line.iupac.charAt(0), photons: photons[line.index] }));
  const strongest = (shell: string) =>
    Math.max(...lines.filter((line) => line.shell === shell).map((line) => line.photons));
  return lines
    .map((line) => ({ ...line, strength: line.photons / strongest(line.shell) }))
    .filter(({ strength }) => strength >= FAINTEST)
    .map(({ iupac, siegbahn, energyEv, strength }) => ({ line: iupac, siegbahn, energyEv, strength }));
}
