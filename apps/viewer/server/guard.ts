import type { FastifyError, FastifyInstance } from 'fastify';
import type { IncomingHttpHeaders } from 'node:http';

/** A fault that the person at the page can understand; sent as `{"error": message}` with its status. */
export class ViewerError extends Error {
  readonly statusCode: number;
  constructor(statusCode: number, message: string) {
    super(message);
    this.name = 'ViewerError';
    this.statusCode = statusCode;
  }
}

/** Plotly sets inline styles and draws its exports through blob and data images; all else comes from this server only. */
const CONTENT_POLICY = [
  "default-src 'none'",
  // Core's compiled loops are made in the page from bytes of its own script.
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const LOOPBACK = ['127.0.0.1', 'localhost', '[::1]'];

/**
 * Answers only to its own host names, and takes something at one address at most, so that a foreign page whose name was re-pointed at 127.0.0.1 gets nothing, and
 * tells the browser to load nothing from elsewhere.
 * @param takes the only address that takes anything; null where none does
 */
export function guard(app: FastifyInstance, extraHosts: readonly string[], takes: string | null): void {
  const hosts = new Set([...LOOPBACK, ...extraHosts.map((host) => host.toLowerCase())]);
  app.addHook('onRequest', async (request, reply) => {
    reply.headers({
      'content-security-policy': CONTENT_POLICY,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-resource-policy': 'same-origin',
    });
    const host = (request.headers.host ?? '').toLowerCase().replace(/:\d+$/, '');
    if (!hosts.has(host)) throw new ViewerError(403, `Limner answers here only to ${[...hosts].join(', ')}.`);
    const { method, headers } = request;
    const isSent = method === 'POST' && request.routeOptions.url === takes;
    if (!isSent && method !== 'GET' && method !== 'HEAD')
      throw new ViewerError(405, 'This viewer is for reading only: it accepts GET.');
    if (isSent) refuseOtherSenders(headers);
    refuseOtherSites(headers);
  });
}

/** What is sent must name its origin, and come as JSON, which no form of another site can send. */
function refuseOtherSenders(headers: IncomingHttpHeaders): void {
  if (headers.origin === undefined) throw new ViewerError(403, 'This viewer answers only its own page.');
  const kind = (headers['content-type'] ?? '').split(';')[0]?.trim().toLowerCase();
  if (kind !== 'application/json') throw new ViewerError(415, 'Send notes as application/json.');
}

/** Other sites may link to the viewer and read nothing of it: browsers say where a request comes from (Fetch Metadata), and its origin. */
function refuseOtherSites(headers: IncomingHttpHeaders): void {
  const from = headers['sec-fetch-site'];
  const isOwn = from === undefined || from === 'same-origin' || from === 'none';
  const isLink = headers['sec-fetch-mode'] === 'navigate' && headers['sec-fetch-dest'] === 'document';
  const own = `http://${headers.host}`;
  if ((isOwn || isLink) && (headers.origin === undefined || headers.origin === own)) return;
  throw new ViewerError(403, 'This viewer answers only its own page.');
}

/** One clear JSON message for every fault, without a trace of the code. */
export function answerErrors(app: FastifyInstance): void {
  app.setNotFoundHandler(async (_request, reply) =>
    reply.code(404).send({ error: 'There is nothing at this address.' }),
  );
  app.setErrorHandler<FastifyError>(async (error, _request, reply) => {
    const status = error.statusCode ?? 500;
    const message = status < 500 ? error.message : `Internal error in the viewer: ${error.message}`;
    return reply.code(status).send({ error: message });
  });
}
