import fastifyCompress from '@fastify/compress';
import fastifyStatic from '@fastify/static';
import Fastify, { type FastifyInstance, type FastifyReply } from 'fastify';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { answerErrors, guard, ViewerError } from './guard.ts';
import type { StatedOfAll } from './jobs.ts';
import type { Session } from './session.ts';
import { addNotes, NOTES_ADDRESS } from './notes.ts';
import { commonFolderOf, openFiles, type OpenedFiles } from './opened.ts';
import { type DoJob, Readers } from './readers.ts';

export { createClassroom } from './classroom.ts';
export { type KeptResults, openResults } from './records.ts';
export { openSession, type Session, type SessionState } from './session.ts';

export interface ViewerOptions {
  /** The spectra on show; nothing else of the disk can be reached through the viewer. */
  readonly files: readonly string[];
  /** The session that the files belong to, when they are read as a whole. */
  readonly session?: Session;
  /** The folder that they were found in: a file that leads out of it is not read. By default the session's, if there is one. */
  readonly folder?: string;
  /** Does what is computed of a file's bytes; by default threads of the viewer's own. @throws on bytes that are no spectrum */
  readonly compute?: DoJob;
  /** Said of all files: options for core, and an axis for those in bare channels. */
  readonly stated?: StatedOfAll;
  /** What is on show in place of files, as `openResults` has it. */
  readonly opened?: OpenedFiles;
  /** Folder that keeps the notes; by default the one that the files were found in. */
  readonly notes?: string;
  /** Host names to answer to, beside the loopback ones, for a viewer that was told to listen elsewhere. */
  readonly hosts?: readonly string[];
}

/** Answers of more bytes go out compressed, at the least effort: a page on the same machine waits for that as well. What is sent is taken as it is. */
const COMPRESSED = {
  encodings: ['gzip' as const],
  threshold: 4096,
  zlibOptions: { level: 1 },
  globalDecompression: false,
};

/** The viewer as a Fastify app that does not listen yet: the caller binds it, to 127.0.0.1 unless told otherwise. */
export async function createViewer(options: ViewerOptions): Promise<FastifyInstance> {
  const app = Fastify({
    ajv: { customOptions: { removeAdditional: false, coerceTypes: false, allErrors: true } },
    routerOptions: { maxParamLength: 1000 },
  });
  guard(app, options.hosts ?? [], NOTES_ADDRESS);
  answerErrors(app);
  await app.register(fastifyCompress, COMPRESSED);
  const { session, stated = { options: {} } } = options;
  const readers = new Readers();
  const compute = options.compute ?? ((job) => readers.do(job));
  const folder = options.folder ?? session?.folder;
  const opened = options.opened ?? openFiles({ files: options.files, folder, session, compute, stated });
  addRoutes(app, opened);
  addSources(app, opened);
  addNotes(app, options.notes ?? folder ?? commonFolderOf(options.files), opened);
  // Without a session the page opens with the first spectrum: it is being read while the browser starts.
  if (!session && !options.opened) {
    app.addHook('onListen', (done) => {
      void readAhead(opened);
      done();
    });
  }
  if (session) addReport(app, session);
  app.get('/api/session', (_request, reply) => reply.send(session?.state() ?? { state: 'none' }));
  app.addHook('onClose', async () => {
    await session?.close();
    await readers.end();
  });
  await app.register(fastifyStatic, {
    root: pageFolder(),
    // The build puts a compressed copy beside each file.
    preCompressed: true,
    setHeaders: (reply, path) => {
      reply.setHeader('vary', 'accept-encoding');
      const versioned = /[/\\]plotly-[\d.]+\.js(\.gz)?$/.test(path);
      reply.setHeader('cache-control', versioned ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  return app;
}

/** What cannot be read is told when the page asks for it. */
async function readAhead(opened: OpenedFiles): Promise<void> {
  const [first] = await opened.list();
  if (first?.error === null) await opened.reading(first.id).catch(() => {});
}

function addRoutes(app: FastifyInstance, opened: OpenedFiles): void {
  app.get('/api/spectra', async () => opened.list());
  app.get<{ Params: { id: string }; Querystring: { beam?: string; gain?: string; offset?: string } }>(
    '/api/spectra/:id/reading',
    {
      schema: {
        params: { type: 'object', required: ['id'], properties: { id: { type: 'string', minLength: 1 } } },
        querystring: {
          type: 'object',
          additionalProperties: false,
          properties: { beam: POSITIVE, gain: POSITIVE, offset: ANY },
          dependencies: { gain: ['offset'], offset: ['gain'] },
        },
      },
    },
    async (request, reply) => {
      const { beam, gain, offset } = request.query;
      const given = {
        ...(beam !== undefined && { beamKev: Number(beam) }),
        ...(gain !== undefined && { axis: { gainEv: Number(gain), offsetEv: Number(offset) } }),
      };
      const reading = await opened.reading(request.params.id, given);
      return reply.type('application/json; charset=utf-8').send(reading);
    },
  );
}

/** The report of the session, as its results hold it: a page, and further ones in a large session. */
function addReport(app: FastifyInstance, session: Session): void {
  const send = async (name: string, reply: FastifyReply): Promise<FastifyReply> => {
    const folder = session.results();
    if (folder === null)
      throw new ViewerError(404, 'The session is still being read, so its report has not been written yet.');
    const page = await readFile(join(folder, name)).catch(() => null);
    if (page === null) throw new ViewerError(404, 'These results have no such page of a report.');
    return reply.type('text/html; charset=utf-8').send(page);
  };
  app.get('/report.html', (_request, reply) => send('report.html', reply));
  app.get<{ Params: { page: string } }>('/report-:page(^\\d{1,6}).html', ({ params }, reply) =>
    send(`report-${params.page}.html`, reply),
  );
}

/** For reading a spectrum in the browser: with a person's changes, or an element left out. */
function addSources(app: FastifyInstance, opened: OpenedFiles): void {
  app.get<{ Params: { id: string } }>(
    '/api/spectra/:id/source',
    { schema: { params: { type: 'object', required: ['id'], properties: { id: { type: 'string', minLength: 1 } } } } },
    async (request) => {
      const { bytes, ...rest } = await opened.source(request.params.id);
      return { ...rest, bytes: Buffer.from(bytes).toString('base64') };
    },
  );
}

/** Numbers as an address has them. */
const POSITIVE = { type: 'string', pattern: '^(?=.*[1-9])\\d{1,6}(\\.\\d{1,9})?$' };
const ANY = { type: 'string', pattern: '^-?\\d{1,6}(\\.\\d{1,9})?$' };

/** The built page, seen from this file compiled, from its source, and from the bundled command. */
const PAGES = ['../page/page.js', '../dist/page/page.js', '../../../viewer/dist/page/page.js'];

function pageFolder(): string {
  const found = PAGES.map((path) => new URL(path, import.meta.url)).find((url) => existsSync(url));
  if (!found) throw new Error('The page is not built yet. Run `npm run build` once.');
  return fileURLToPath(new URL('.', found));
}
