import {
  bestFitting,
  compositionIn,
  type KindMember,
  kindsOf,
  layersCaption,
  type LimnerRecord,
  sessionSummary,
  summary,
} from '@limner/core';
import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Failure } from '../input/failure.ts';
import { type Place, Sheet } from '../input/sheet.ts';
import { stratigraphy, STRATIGRAPHY_STYLE } from '../page/stratigraphy.ts';
import { findingsIn } from '../summary/findings.ts';
import { bySample, type Grain } from '../summary/layers.ts';
import { manifestIn } from './manifest.ts';

/** One element of one spectrum, for a matrix of spectra and elements. */
export interface OverviewElement {
  readonly symbol: string;
  readonly verdict: 'present' | 'open';
  readonly counts: { readonly value: number; readonly sigma: number };
  readonly massFraction: { readonly value: number; readonly sigma: number } | null;
}

/** One spectrum of a session, briefly. Plain data. */
export interface OverviewSpectrum {
  /** Path below the folder, with '/' between names. */
  readonly file: string;
  readonly title: string;
  readonly place: Pick<Place, 'sample' | 'layer' | 'particle'> | null;
  readonly totalCounts: number;
  /** The reading in a sentence or two. */
  readonly summary: string;
  /** Required by the counts or open, most counts first. */
  readonly elements: readonly OverviewElement[];
  /** The material that fits best, if one stands out, and whether others fit as well. */
  readonly best: { readonly name: string; readonly alike: number } | null;
  readonly warnings: readonly string[];
  /** The file with the same bytes that is counted; null where this one is. */
  readonly copyOf: string | null;
  /** Number of its kind among alike spectra; null where it is unlike any other. */
  readonly kind: number | null;
}

/** A session at a glance. Plain data. */
export interface Overview {
  readonly spectra: readonly OverviewSpectrum[];
  readonly failures: readonly Failure[];
  /** Kinds of alike spectra, largest first. */
  readonly kinds: readonly { readonly number: number; readonly name: string; readonly spectra: number }[];
  /** In a few sentences. */
  readonly summary: string;
  /** A figure of the layers of each sample, as SVG in HTML. */
  readonly samples: readonly { readonly sample: string; readonly figure: string; readonly layers: number }[];
  /** Style sheet of the figures. */
  readonly figureStyle: string;
}

/** The session at a glance, from the finished results in a folder. Holds no records. @throws when there are none */
export async function overviewOf(out: string): Promise<Overview> {
  const { sheet: text, inputs } = await manifestIn(out);
  const sheet = text === null ? null : new Sheet(text);
  const spectra: Omit<OverviewSpectrum, 'kind'>[] = [];
  const members: KindMember[] = [];
  const grains: Grain[] = [];
  const names = inputs.filter(({ outcome }) => outcome === 'read').map(({ name }) => name);
  const lines = createInterface({ input: createReadStream(join(out, 'records.ndjson')), crlfDelay: Infinity });
  const firsts = new Map<string, string>();
  for await (const line of lines) {
    const record = JSON.parse(line) as LimnerRecord;
    const file = names[spectra.length] ?? record.source.name;
    const place = sheet?.placeOf(file) ?? null;
    const { sha256 } = record.source;
    const copyOf = firsts.get(sha256) ?? null;
    spectra.push({ ...spectrumOf(file, record, place), copyOf });
    if (copyOf !== null) continue;
    firsts.set(sha256, file);
    const found = findingsIn(record);
    const { totalCounts } = record.conditions;
    members.push({ file, sha256, totalCounts, composition: compositionIn(record.elements), best: found.best });
    if (place) grains.push({ file, place, found });
  }
  const { kinds } = kindsOf(members);
  const kindOf = new Map(kinds.flatMap((kind) => kind.members.map(({ file }) => [file, kind.number] as const)));
  const overview = {
    spectra: spectra.map((spectrum) => ({ ...spectrum, kind: kindOf.get(spectrum.file) ?? null })),
    kinds: kinds.map((kind) => ({ number: kind.number, name: kind.name, spectra: kind.members.length })),
    failures: inputs.flatMap(({ name, outcome, reason }) =>
      outcome === 'failed' ? [{ file: name, reason: reason ?? '' }] : [],
    ),
    samples: bySample(grains).map((sample) => ({
      sample: sample.sample,
      figure: stratigraphy(sample, layersCaption(sample.sample)),
      layers: sample.layers.filter(({ layer }) => layer !== null).length,
    })),
    figureStyle: STRATIGRAPHY_STYLE,
  };
  return { ...overview, summary: summaryOf(overview) };
}

function spectrumOf(
  file: string,
  record: LimnerRecord,
  place: Place | null,
): Omit<OverviewSpectrum, 'kind' | 'copyOf'> {
  const best = bestFitting(record);
  return {
    file,
    title: record.source.title,
    place: place && { sample: place.sample, layer: place.layer, particle: place.particle },
    totalCounts: record.conditions.totalCounts,
    summary: summary(record),
    elements: record.elements
      .flatMap(({ symbol, verdict, counts, massFraction }) =>
        verdict === 'present' || verdict === 'open'
          ? [
              {
                symbol,
                verdict,
                counts,
                massFraction: massFraction && { value: massFraction.value, sigma: massFraction.sigma },
              },
            ]
          : [],
      )
      .sort((a, b) => b.counts.value - a.counts.value),
    best: best && { name: best.name, alike: best.alike.length },
    warnings: record.warnings.map(({ text }) => text),
  };
}

function summaryOf({ spectra, samples, failures, kinds }: Omit<Overview, 'summary'>): string {
  return sessionSummary({
    spectra: spectra.length,
    samples: samples.length,
    layers: samples.reduce((sum, sample) => sum + sample.layers, 0),
    open: spectra.filter(({ elements }) => elements.some(({ verdict }) => verdict === 'open')).length,
    kinds,
    alone: spectra.filter(({ kind }) => kind === null).length,
    failures: failures.length,
  });
}
