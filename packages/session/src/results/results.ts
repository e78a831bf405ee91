import { type KindMember, kindsOf } from '@limner/core';
import { createHash } from 'node:crypto';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { SettingSummary } from '../instrument/calibration.ts';
import type { Circumstances } from './circumstances.ts';
import { CRATE, CRATE_BEGINS, crateText } from './crate.ts';
import { DATA_PACKAGE, DATA_PACKAGE_BEGINS, dataPackageText } from './data-package.ts';
import { ELEMENT_HEADING, ELEMENT_SYMBOLS } from './derive.ts';
import { KIND_HEADING, KIND_MEMBER_HEADING, kindMemberRows, kindRows } from './kind-tables.ts';
import { kindsSection } from '../page/kinds-section.ts';
import { bySample, type Grain, LAYER_HEADING, layerRows } from '../summary/layers.ts';
import { instrumentSection } from '../page/instrument-section.ts';
import { type Manifest, MANIFEST, MANIFEST_BEGINS, manifestText, type Input } from './manifest.ts';
import { cannotWrite, HIDDEN, type OutputFile, OutputFolder } from './output.ts';
import type { Part } from './part.ts';
import type { Outcome } from '../reading/read-one.ts';
import { placesSection, plansOf } from '../page/places-section.ts';
import type { Point } from '../input/position.ts';
import { PROFILE_HEADING, profileRows } from '../summary/profile.ts';
import { REPORT_BEGINS, REPORT_END, reportHead, reportMiddle } from '../page/report-page.ts';
import { PAGE_NAME, pageHead, pageLinks, pageName, pageOf, REPORT, rowTo } from '../page/report-pages.ts';
import { samplesSection } from '../page/samples-section.ts';
import type { Sheet } from '../input/sheet.ts';
import { type Failure, FAILURE_HEADING, failureRow, PIGMENT_HEADING } from './tables.ts';

const reportFile = (name: string): OutputFile => ({ name, begins: REPORT_BEGINS.trimEnd() });
/** The last one vouches for the others; further pages of the report come as they are needed. */
const OUTPUT_FILES: readonly OutputFile[] = [
  { name: 'records.ndjson', begins: '{"schema":"limner-record/' },
  { name: 'elements.csv', begins: 'file,title,sha256,' },
  { name: 'pigments.csv', begins: PIGMENT_HEADING.trimEnd() },
  { name: 'failures.csv', begins: FAILURE_HEADING.trimEnd() },
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

export interface Told {
  readonly circumstances: Circumstances;
  readonly part: Part | null;
  readonly sheet: Sheet | null;
  /** Day of the results, YYYY-MM-DD; the day when the session was begun by default. */
  readonly date: string | undefined;
}

/** The output files of a session, written as the outcomes come in; they appear when all is done. Holds no records. */
export class Results {
  readonly failures: Failure[] = [];
  read = 0;
  /** What the session knows of its instrument; null when every spectrum was read on its own. */
  instrument: readonly SettingSummary[] | null = null;
  readonly #output: OutputFolder;
  readonly #told: Told;
  readonly #date: string;
  readonly #cautions = new Set<string>();
  readonly #session = createHash('sha256');
  readonly #grains: Grain[] = [];
  readonly #points: Point[] = [];
  readonly #members: KindMember[] = [];
  #inputs = 0;

  private constructor(output: OutputFolder, told: Told, date: string) {
    this.#output = output;
    this.#told = told;
    this.#date = date;
  }

  /** @throws OutputError */
  static async open(out: string, told: Told): Promise<Results> {
    const output = await OutputFolder.open(out, OUTPUT_FILES, SCRATCH);
    const results = new Results(output, told, told.date ?? (await dayIn(out)));
    await output.append('elements.csv', ELEMENT_HEADING);
    await output.append('pigments.csv', PIGMENT_HEADING);
    await output.append('failures.csv', FAILURE_HEADING);
    return results;
  }

  /** Takes the outcomes in order of path. @throws OutputError */
  async add(outcome: Exclude<Outcome, { kind: 'not-kept' }>): Promise<void> {
    const { name, kind, sha256 } = outcome;
    const reason = kind === 'failed' ? { reason: outcome.reason } : {};
    await this.#addInput({ name, sha256: sha256 === '' ? null : sha256, outcome: kind, ...reason });
    if (kind === 'failed') {
      const failure = { file: name, reason: outcome.reason };
      this.failures.push(failure);
      await this.#output.append('failures.csv', failureRow(failure));
    } else if (kind === 'read') {
      this.read++;
      const { line, elements, pigments, row, section, cautions, found, totalCounts, composition, placed } =
        outcome.derived;
      await this.#output.append('records.ndjson', line);
      await this.#output.append('elements.csv', elements);
      await this.#output.append('pigments.csv', pigments);
      await this.#addSection(row, `${section}\n`);
      for (const caution of cautions) this.#cautions.add(caution);
      const place = this.#told.sheet?.placeOf(name);
      if (placed) {
        const { sample = null, layer = null } = place ?? {};
        this.#points.push({ file: name, ...placed.position, sample, layer, best: found.best, amounts: placed.amounts });
      }
      if (place) this.#grains.push({ file: name, place, found });
      this.#members.push({ file: name, sha256, totalCounts, composition, best: found.best });
    }
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
    await this.#output.append('layers.csv', LAYER_HEADING + layerRows(samples));
    const plans = plansOf(this.#points);
    await this.#output.append(
      'profile.csv',
      PROFILE_HEADING + profileRows(plans.flatMap(({ profile }) => profile ?? [])),
    );
    await this.#output.append('kinds.csv', KIND_HEADING + kindRows(kinds));
    await this.#output.append('kind-members.csv', KIND_MEMBER_HEADING + kindMemberRows(kinds));
    await this.#output.append(DATA_PACKAGE, dataPackageText(ELEMENT_SYMBOLS));
    await this.#writeReport(
      samplesSection(samples, kinds),
      kindsSection(kinds),
      placesSection(plans, this.read - this.#points.length),
    );
    await this.#writeCrate();
    await this.#writeManifest();
    await this.#output.commit(PAGE_NAME);
  }

  async #writeReport(samples: string, kinds: string, places: string): Promise<void> {
    const { read: spectra, failures } = this;
    const instrument = instrumentSection(this.instrument);
    const content = { spectra, samples, kinds, places, instrument, failures, cautions: [...this.#cautions] };
    await this.#output.append(REPORT, reportHead(content));
    await this.#output.appendScratch(REPORT, 'rows');
    await this.#output.append(REPORT, reportMiddle(content));
    await this.#output.appendScratch(REPORT, 'sections');
    const last = Math.max(1, pageOf(this.read));
    for (let page = 1; page <= last; page++)
      await this.#output.append(pageName(page), pageLinks(page, last) + REPORT_END);
  }

  async #writeCrate(): Promise<void> {
    const files = this.#output.names
      .filter((name) => name !== CRATE)
      .map((name) => ({
        name,
        // The manifest is written after this, since it holds this file's hash.
        bytes: name === MANIFEST ? null : this.#output.digest(name).bytes,
      }));
    await this.#output.append(CRATE, crateText(files, this.read, this.#told.circumstances, this.#date));
  }

  async #writeManifest(): Promise<void> {
    const outputs = this.#output.names.filter((name) => name !== MANIFEST).map((name) => this.#output.digest(name));
    const { circumstances, part, sheet } = this.#told;
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

  /** Removes what is under way, if anything is. */
  discard(): Promise<void> {
    return this.#output.discard();
  }
}

/** Where the finished results of a session are kept. */
export const storeIn = (out: string): string => join(out, HIDDEN, 'results');

/** Today (UTC), or the day when this session was begun, so that a run that goes on gives the bytes of one that was never cut off. */
async function dayIn(out: string): Promise<string> {
  const path = join(out, HIDDEN, 'begun');
  const begun = await readFile(path, 'utf8').catch(() => '');
  if (/^\d{4}-\d\d-\d\d$/.test(begun)) return begun;
  const today = new Date().toISOString().slice(0, 10);
  try {
    await mkdir(join(out, HIDDEN), { recursive: true });
    await writeFile(path, today);
  } catch (error) {
    throw cannotWrite(out, error);
  }
  return today;
}

/** The manifest of an output folder. @throws when there is none */
export async function manifestIn(out: string): Promise<Manifest> {
  return JSON.parse(await readFile(join(out, MANIFEST), 'utf8')) as Manifest;
}
