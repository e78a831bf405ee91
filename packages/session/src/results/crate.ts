import type { Circumstances } from './circumstances.ts';

export const CRATE = 'ro-crate-metadata.json';
const CONTEXT = 'https://w3id.org/ro/crate/1.1/context';
export const CRATE_BEGINS = `{"@context":"${CONTEXT}","@graph":[{"@id":"${CRATE}"`;

interface Description {
  readonly about: string;
  readonly format: string;
}

const DESCRIPTIONS: Readonly<Record<string, Description>> = {
  'records.ndjson': {
    about: 'A record (limner-record/1) of each spectrum, one line each',
    format: 'application/x-ndjson',
  },
  'curves.ndjson': {
    about: 'Each fitted spectrum as the report draws it: counts, fit and background against energy, one line each',
    format: 'application/x-ndjson',
  },
  'elements.csv': { about: 'Verdict, amount, limit and rivals of each element in each spectrum', format: 'text/csv' },
  'pigments.csv': { about: 'Materials that each spectrum allows', format: 'text/csv' },
  'grains.csv': { about: 'A row for each grain: place, elements, headline, date, questions', format: 'text/csv' },
  'notes.csv': { about: 'What people accepted, rejected or remarked, and why', format: 'text/csv' },
  'layers.csv': {
    about: 'Number of grains in each layer in which an element or a material was found',
    format: 'text/csv',
  },
  'kinds.csv': { about: 'Kinds of similar spectra, with a representative of each', format: 'text/csv' },
  'kind-members.csv': { about: 'The kind of each spectrum', format: 'text/csv' },
  'profile.csv': { about: 'Main elements along the line through the points of each sample', format: 'text/csv' },
  'failures.csv': { about: 'Files that could not be read, and why', format: 'text/csv' },
  'report.html': { about: 'All readings, for screen and print', format: 'text/html' },
  'datapackage.json': { about: 'Table Schemas of the CSV files', format: 'application/json' },
  'manifest.json': { about: 'Hashes of all inputs, versions and options', format: 'application/json' },
};

/** Further pages of the report are named after the first. */
const descriptionOf = (name: string): Description | undefined =>
  DESCRIPTIONS[name] ?? DESCRIPTIONS[name.replace(/-\d+(?=\.html$)/, '')];

/**
 * The folder's description as an RO-Crate (version 1.1, from memory): the descriptor, the root with its files, the software and its run.
 * @param files with their sizes in bytes @param date YYYY-MM-DD, which the standard demands of the root
 */
export function crateText(
  files: readonly { readonly name: string; readonly bytes: number | null }[],
  spectra: number,
  { software }: Circumstances,
  date: string,
): string {
  const parts = files.map(({ name }) => ({ '@id': name }));
  const root = {
    '@id': './',
    '@type': 'Dataset',
    name: `Readings of ${spectra} energy-dispersive X-ray spectra`,
    description: 'Elements and candidate materials, read from spectra of paint grains: suggestions, never proof.',
    datePublished: date,
    license: { '@id': '#licence' },
    hasPart: parts,
    mentions: { '@id': '#reading' },
  };
  const graph = [
    {
      '@id': CRATE,
      '@type': 'CreativeWork',
      conformsTo: { '@id': 'https://w3id.org/ro/crate/1.1' },
      about: { '@id': './' },
    },
    root,
    ...files.map(({ name, bytes }) => ({
      '@id': name,
      '@type': 'File',
      name,
      description: descriptionOf(name)?.about ?? name,
      encodingFormat: descriptionOf(name)?.format ?? 'application/octet-stream',
      ...(bytes !== null && { contentSize: String(bytes) }),
    })),
    {
      '@id': '#licence',
      '@type': 'CreativeWork',
      name: 'Not stated',
      description: 'To be stated by whoever publishes this folder.',
    },
    { '@id': '#limner', '@type': 'SoftwareApplication', name: 'Limner', version: software.version },
    {
      '@id': '#reading',
      '@type': 'CreateAction',
      name: 'Reading of the spectra that manifest.json lists',
      instrument: { '@id': '#limner' },
      result: parts,
    },
  ];
  return `${JSON.stringify({ '@context': CONTEXT, '@graph': graph })}\n`;
}
