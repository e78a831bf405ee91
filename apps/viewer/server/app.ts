import fastifyStatic from '@fastify/static';
import { readingOf, readSpectrum, type Reading } from '@limner/core';
import Fastify, { type FastifyInstance } from 'fastify';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { answerErrors, guard } from './guard.ts';
import { openShelf, type Shelf } from './shelf.ts';
import { plainReading } from './plain.ts';

export interface ViewerOptions {
  /** The spectra on show; nothing else of the disk can be reached through the viewer. */
  readonly files: readonly string[];
  /** From a file's bytes to its reading; core's own by default. @throws on bytes that are no spectrum */
  readonly read?: (bytes: Uint8Array, name: string) => Reading;
  /** Host names to answer to, beside the loopback ones, for a viewer that was told to listen elsewhere. */
  readonly hosts?: readonly string[];
}

const readWithCore = (bytes: Uint8Array, name: string): Reading => readingOf(readSpectrum(bytes, { name }), {});

/** The viewer as a Fastify app that does not listen yet: the caller binds it, to 127.0.0.1 unless told otherwise. */
export async function createViewer(options: ViewerOptions): Promise<FastifyInstance> {
  const app = Fastify({
    ajv: { customOptions: { removeAdditional: false, coerceTypes: false, allErrors: true } },
    routerOptions: { maxParamLength: 1000 },
  });
  guard(app, options.hosts ?? []);
  answerErrors(app);
  addRoutes(app, openShelf(options.files, options.read ?? readWithCore));
  await app.register(fastifyStatic, {
    root: pageFolder(),
    setHeaders: (reply, path) => {
      const versioned = /[/\\]plotly-[\d.]+\.js$/.test(path);
      reply.setHeader('cache-control', versioned ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  return app;
}

function addRoutes(app: FastifyInstance, shelf: Shelf): void {
  app.get('/api/spectra', async () => shelf.list());
  app.get<{ Params: { id: string } }>(
    '/api/spectra/:id/reading',
    { schema: { params: { type: 'object', required: ['id'], properties: { id: { type: 'string', minLength: 1 } } } } },
    async (request, reply) => {
      const reading = await shelf.reading(request.params.id);
      return reply.type('application/json; charset=utf-8').send(JSON.stringify(plainReading(reading)));
    },
  );
}

/** The bundled page, seen from dist/server (as built) or from server (as source, in tests). */
function pageFolder(): string {
  const found = ['../page/page.js', '../dist/page/page.js']
    .map((path) => new URL(path, import.meta.url))
    .find((url) => existsSync(url));
  if (!found) throw new Error('The page is not built yet. Run `npm run build` once.');
  return fileURLToPath(new URL('.', found));
}
