import Fastify, { type FastifyInstance } from 'fastify';
import { isIPv6 } from 'node:net';
import { extname } from 'node:path';
import { answerErrors, guard } from './guard.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.pdf': 'application/pdf',
};

/**
 * Files for a classroom, from memory: nothing on the disk can be reached, nothing is taken, and who asks is not written down.
 * @param files text by file name, index.html among them   @param address that it will listen on, beside the loopback ones
 */
export function createClassroom(files: ReadonlyMap<string, string>, address: string): FastifyInstance {
  const app = Fastify({ routerOptions: { maxParamLength: 200 } });
  guard(app, [isIPv6(address) ? `[${address}]` : address], null);
  answerErrors(app);
  const bytes = new Map([...files].map(([name, text]) => [name, Buffer.from(text)]));
  app.get<{ Params: { name?: string } }>('/:name?', async ({ params }, reply) => {
    const name = params.name || 'index.html';
    const found = bytes.get(name);
    if (found === undefined) return reply.callNotFound();
    return reply
      .headers({ 'content-type': TYPES[extname(name)] ?? 'application/octet-stream', 'cache-control': 'no-cache' })
      .send(found);
  });
  return app;
}
