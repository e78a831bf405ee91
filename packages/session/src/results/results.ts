import {
  type KindMember,
  type Kinds,
  kindsOf,
  type Note,
  type ReportHead,
  sessionSummary,
  type SettingSummary,
  standingNotes,
} from '@limner/core';
import { createHash } from 'node:crypto';
import { byCodeUnits } from '../input/code-units.ts';
import type { Failure } from '../input/failure.ts';
import type { Part } from '../input/part.ts';
import type { Place, Sheet } from '../input/sheet.ts';
import { notesPart } from '../page/notes-section.ts';
import { positionsHtml } from '../page/positions-section.ts';
import { REPORT_BEGINS, REPORT_END, type ReportContent, reportHead, reportMiddle } from '../page/report-page.ts';
import { PAGE_NAME, pageHead, pageLinks, pageName, pageOf, REPORT, rowTo } from '../page/report-pages.ts';
import { instrumentHtml, kindsHtml } from '../page/report-sections.ts';
import { type GrainShown, samplesHtml } from '../page/samples-section.ts';
import { inShort } from '../summary/in-short.ts';
import { bySample, type Grain, type SampleSummary } from '../summary/layers.ts';
import type { Point } from '../summary/point.ts';
import { sampleMapsOf } from '../summary/sample-map.ts';
import type { Circumstances } from './circumstances.ts';
import { CRATE, CRATE_BEGINS, crateText } from './crate.ts';
import { DATA_PACKAGE, DATA_PACKAGE_BEGINS, dataPackageText } from './data-package.ts';
import { CURVES, CURVES_BEGIN } from './curves.ts';
import type { Derived, Summarised } from './derive.ts';
import { GRAIN_HEADING, grainRow } from './grain-table.ts';
import { dayIn } from './hidden.ts';
import { KIND_HEADING, KIND_MEMBER_HEADING, kindMemberRows, kindRows } from './kind-tables.ts';
import { LAYER_HEADING, layerRows } from './layer-table.ts';
import { type Input, MANIFEST, MANIFEST_BEGINS, manifestText } from './manifest.ts';
import { NOTE_HEADING, noteRows } from './note-table.ts';
import type { Outcome } from './outcome.ts';
import { type OutputFile, OutputFolder } from './output.ts';
import { PROFILE_HEADING, profileRows } from './profile-table.ts';
import { ELEMENT_HEADING, FAILURE_HEADING, failureRow, PIGMENT_HEADING } from './tables.ts';

const reportFile = (name: string): OutputFile => ({ name, begins: REPORT_BEGINS.trimEnd() });
/** The last one vouches for the others; further pages of the report are added as needed. */
const OUTPUT_FILES: readonly OutputFile[] = [
  { name: 'records.ndjson', begins: '{"schema":"limner-record/' },
  { name: CURVES, begins: CURVES_BEGIN },
  { name: 'elements.csv', begins: ELEMENT_HEADING.trimEnd(), began: 'file,title,sha256,' },
  { name: 'pigments.csv', begins: PIGMENT_HEADING.trimEnd() },
  { name: 'failures.csv', begins: FAILURE_HEADING.trimEnd() },
  { name: 'grains.csv', begins: 'file,sample,layer,particle,present,' },
  { name: 'notes.csv', begins: NOTE_HEADING.trimEnd() },
  { name: 'layers.csv', begins: LAYER_HEADING.trimEnd() },
  { name: 'kinds.csv', begins: KIND_HEADING.trimEnd() },
  { name: 'kind-members.csv', begins: KIND_MEMBER_HEADING.trimEnd() },
  { name: 'profile.csv', begins: PROFILE_HEADING.trimEnd() },
  reportFile(REPORT),
  { name: DATA_PACKAGE, begins: DATA_PACKAGE_BEGINS },
  { name: CRATE, begins: CRATE_BEGINS },
  { name: MANIFEST, begins: MANIFEST_BEGINS },
];
const SCRATCH = ['rows', 'sections', 'inputs'] as const;

export interface Provenance {
  readonly circumstances: Circumstances;
  readonly part: Part | null;
  readonly sheet: Sheet | null;
  /** Day of the results, YYYY-MM-DD; by default the day on which the session was begun. */
  readonly date: string | undefined;
  /** What people noted on its spectra. */
  readonly notes: readonly Note[];
}

/** The output files of a session, written as outcomes come in; they appear when all are complete. Holds no records. */
export class Results {
  readonly failures: Failure[] = [];
  /** Files with the same bytes as one before them, which is counted. */
  readonly copies: { readonly file: string; readonly of: string }[] = [];
  read = 0;
  /** What the session knows about its instrument; null when every spectrum was read on its own. */
  instrument: readonly SettingSummary[] | null = null;
  readonly #output: OutputFolder;
  readonly #provenance: Provenance;
  readonly #date: string;
  readonly #cautions = new Set<string>();
  readonly #session = createHash('sha256');
  readonly #grains: Grain[] = [];
  readonly #points: Point[] = [];
  readonly #members: KindMember[] = [];
  /** What the pages of samples show of each spectrum, by file. */
  readonly #shown = new Map<string, GrainShown>();
  readonly #days: string[] = [];
  readonly #owners = new Set<string>();
  /** Spectra in which an element stays open. */
  #open = 0;
  readonly #beamsKev = new Set<number>();
  readonly #notes: readonly Note[];
  /** The first file of each content. */
  readonly #firsts = new Map<string, string>();
  #inputs = 0;

  private constructor(output: OutputFolder, provenance: Provenance, date: string) {
    this.#output = output;
    this.#provenance = provenance;
    this.#date = date;
    this.#notes = standingNotes(provenance.notes);
  }

  /** @throws OutputError */
  static async open(out: string, provenance: Provenance): Promise<Results> {
    const output = await OutputFolder.open(out, OUTPUT_FILES, SCRATCH);
    const results = new Results(output, provenance, provenance.date ?? (await dayIn(out)));
    await output.append('elements.csv', ELEMENT_HEADING);
    await output.append('pigments.csv', PIGMENT_HEADING);
    await output.append('failures.csv', FAILURE_HEADING);
    await output.append('grains.csv', GRAIN_HEADING);
    return results;
  }

  /** Takes the outcomes in order of path. @throws OutputError */
  async add(outcome: Outcome): Promise<void> {
    const { name, kind, sha256 } = outcome;
    const reason = kind === 'failed' ? { reason: outcome.reason } : {};
    await this.#addInput({ name, sha256: sha256 === '' ? null : sha256, outcome: kind, ...reason });
    if (kind === 'failed') await this.#addFailure({ file: name, reason: outcome.reason });
    else if (kind === 'read') await this.#addRead(name, outcome.sha256, outcome.derived);
  }

  async #addFailure(failure: Failure): Promise<void> {
    this.failures.push(failure);
    await this.#output.append('failures.csv', failureRow(failure));
  }

  async #addRead(file: string, sha256: string, { tables, report, summary }: Derived): Promise<void> {
    this.read++;
    await this.#output.append('records.ndjson', tables.records);
    await this.#output.append(CURVES, tables.curves);
    await this.#output.append('elements.csv', tables.elements);
    await this.#output.append('pigments.csv', tables.pigments);
    const notes = this.#notes.filter((note) => note.file === file);
    const section = report.section.replace(/<\/section>$/, `${notesPart(notes, sha256)}</section>`);
    await this.#addSection(report.row, `${section}\n`);
    const page = pageOf(this.read);
    const link = `${pageName(page)}#${report.anchor}`;
    for (const caution of report.cautions) this.#cautions.add(caution);
    const place = this.#provenance.sheet?.placeOf(file) ?? null;
    const near = `${page === 1 ? '' : pageName(page)}#${report.anchor}`;
    if (place) this.#shown.set(file, { link: near, steps: summary.steps, picture: summary.picture });
    const copyOf = this.#firsts.get(sha256) ?? null;
    await this.#output.append('grains.csv', grainRow({ file, sha256, place, summary, notes, copyOf, link }));
    if (copyOf !== null) return void this.copies.push({ file, of: copyOf });
    this.#firsts.set(sha256, file);
    this.#count(file, sha256, place, summary);
  }

  /** Takes a spectrum into what is said of the session as a whole. */
  #count(file: string, sha256: string, place: Place | null, summary: Summarised): void {
    const { found, point, totalCounts, composition, beamKev, day, owner } = summary;
    this.#beamsKev.add(beamKev);
    if (day !== '') this.#days.push(day);
    if (owner !== '') this.#owners.add(owner);
    if (found.open.length > 0) this.#open++;
    const { best } = found;
    if (place) this.#grains.push({ file, place, found });
    if (point) {
      const { sample, layer } = place ?? { sample: null, layer: null };
      this.#points.push({ file, ...point, sample, layer, best });
    }
    this.#members.push({ file, sha256, totalCounts, composition, best });
  }

  async #addSection(row: string, section: string): Promise<void> {
    const page = pageOf(this.read);
    await this.#output.append('rows', `${rowTo(page, row)}\n`);
    if (page === 1) return this.#output.append('sections', section);
    if (page !== pageOf(this.read - 1)) {
      await this.#output.add(reportFile(pageName(page)));
      await this.#output.append(pageName(page), pageHead(page));
    }
    await this.#output.append(pageName(page), section);
  }

  async #addInput(input: Input): Promise<void> {
    this.#session.update(JSON.stringify([input.name, input.sha256]));
    await this.#output.append('inputs', `${this.#inputs++ === 0 ? '' : ',\n'}${JSON.stringify(input)}`);
  }

  /** Completes the files and puts them in their places. @throws OutputError */
  async finish(): Promise<void> {
    const samples = bySample(this.#grains);
    const kinds = kindsOf(this.#members);
    await this.#output.append('notes.csv', NOTE_HEADING + noteRows(this.#notes));
    await this.#output.append('layers.csv', LAYER_HEADING + layerRows(samples));
    const maps = sampleMapsOf(this.#points);
    await this.#output.append(
      'profile.csv',
      PROFILE_HEADING + profileRows(maps.flatMap(({ profile }) => profile ?? [])),
    );
    await this.#output.append('kinds.csv', KIND_HEADING + kindRows(kinds));
    await this.#output.append('kind-members.csv', KIND_MEMBER_HEADING + kindMemberRows(kinds));
    await this.#output.append(DATA_PACKAGE, dataPackageText());
    await this.#writeReport({
      inShort: inShort(samples),
      samples: samplesHtml(samples, kinds, (file) => this.#shown.get(file)!),
      summary: this.#summary(samples, kinds),
      kinds: kindsHtml(kinds),
      positions: positionsHtml(maps, this.read - this.#points.length),
    });
    await this.#writeCrate();
    await this.#writeManifest();
    await this.#output.commit(PAGE_NAME);
  }

  async #writeReport(
    sections: Pick<ReportContent, 'inShort' | 'samples' | 'summary' | 'kinds' | 'positions'>,
  ): Promise<void> {
    const { read: spectra, failures } = this;
    const instrument = instrumentHtml(this.instrument);
    const content = {
      ...sections,
      head: this.#head(),
      spectra,
      instrument,
      failures,
      cautions: [...this.#cautions],
    };
    await this.#output.append(REPORT, reportHead(content));
    await this.#output.appendScratch(REPORT, 'rows');
    await this.#output.append(REPORT, reportMiddle(content));
    await this.#output.appendScratch(REPORT, 'sections');
    const last = Math.max(1, pageOf(this.read));
    for (let page = 1; page <= last; page++)
      await this.#output.append(pageName(page), pageLinks(page, last) + REPORT_END);
  }

  #summary(samples: readonly SampleSummary[], { kinds, outliers }: Kinds): string {
    return sessionSummary({
      spectra: this.read,
      samples: samples.length,
      layers: samples.reduce((sum, { layers }) => sum + layers.filter(({ layer }) => layer !== null).length, 0),
      open: this.#open,
      kinds: kinds.map(({ name, members }) => ({ name, spectra: members.length })),
      alone: outliers.length,
      failures: this.failures.length,
    });
  }

  #head(): ReportHead {
    const { software, options } = this.#provenance.circumstances;
    const days = this.#days.sort(byCodeUnits);
    return {
      date: this.#date,
      taken: [...days.slice(0, 1), ...days.slice(-1)],
      owners: [...this.#owners],
      spectra: this.read,
      failures: this.failures.length,
      copies: this.copies.length,
      beamsKev: [...this.#beamsKev],
      ...software,
      options: { ...options },
      session: this.#session.copy().digest('hex'),
    };
  }

  async #writeCrate(): Promise<void> {
    const files = this.#output.names
      .filter((name) => name !== CRATE)
      .map((name) => ({
        name,
        // The manifest is written after this, since it holds this file's hash.
        bytes: name === MANIFEST ? null : this.#output.digest(name).bytes,
      }));
    await this.#output.append(CRATE, crateText(files, this.read, this.#provenance.circumstances, this.#date));
  }

  async #writeManifest(): Promise<void> {
    const outputs = this.#output.names.filter((name) => name !== MANIFEST).map((name) => this.#output.digest(name));
    const { circumstances, part, sheet } = this.#provenance;
    const [before, after] = manifestText({
      ...circumstances,
      part,
      sheet: sheet?.text ?? null,
      instrument: this.instrument,
      session: this.#session.digest('hex'),
      outputs,
    });
    await this.#output.append(MANIFEST, before);
    await this.#output.appendScratch(MANIFEST, 'inputs');
    await this.#output.append(MANIFEST, after);
  }

  /** Removes unfinished files, if there are any. */
  discard(): Promise<void> {
    return this.#output.discard();
  }
}
