import { createServer } from 'node:net';
import { type Io, UsageError } from './io.ts';
import { portValue } from './values.ts';

export const LOOPBACK = '127.0.0.1';
export const DEFAULT_PORT = 4173;
const PORTS_TRIED = 50;

/** What is served: a Fastify app, as far as a command needs it. */
export interface Served {
  listen(at: { readonly host: string; readonly port: number }): Promise<string>;
  close(): PromiseLike<unknown>;
}

/** Serves until the user ends it. @param told what is said once it can be reached, of its address */
export async function serve(
  io: Io,
  served: Served,
  at: { readonly host: string; readonly port: number },
  told: (address: string) => string,
): Promise<void> {
  const address = await served.listen(at);
  io.stdout.write(told(address));
  await io.interrupted();
  await served.close();
}

/** The port that PORT asks for, or the next free one from the usual one on. @throws UsageError if PORT is no port, or is taken */
export async function portToUse(io: Io, host: string): Promise<number> {
  const wish = io.env['PORT'];
  if (wish !== undefined && wish !== '') {
    const port = portValue(wish);
    if (await isFree(host, port)) return port;
    throw new UsageError(`PORT=${wish}: this port is in use or not allowed; set PORT to another, or unset it`);
  }
  for (let port = DEFAULT_PORT; port < DEFAULT_PORT + PORTS_TRIED; port++) if (await isFree(host, port)) return port;
  return 0;
}

async function isFree(host: string, port: number): Promise<boolean> {
  const probe = createServer();
  return new Promise((done) => {
    probe.once('error', () => done(false));
    probe.listen({ host, port }, () => probe.close(() => done(true)));
  });
}
