import { isIP } from 'node:net';
import { networkInterfaces } from 'node:os';
import { UsageError } from '../io.ts';

/** Addresses that reach no further than this machine. */
export const isLoopback = (address: string): boolean => address === '::1' || /^127\.\d+\.\d+\.\d+$/.test(address);

/** An address that this machine has: one, so that it is known who can reach it. @throws UsageError with those that there are */
export function roomValue(option: string, text: string): string {
  const own = Object.values(networkInterfaces())
    .flatMap((addresses = []) => addresses.map(({ address }) => address))
    .filter((address) => !isLoopback(address));
  if (isIP(text) !== 0 && (isLoopback(text) || own.includes(text))) return text;
  const there = own.length > 0 ? `it has ${own.join(', ')}` : 'it is on no network';
  throw new UsageError(`${option} ${text}: give one of this machine's addresses; ${there}`);
}

/** What whoever opens a classroom to a network should know first. */
export const roomWarning = (address: string): string => `Warning: the bench is open to the network of ${address}.
  Every device that reaches this address can open the bench, lessons, handouts, wall chart and answers; nothing else on this machine.
  It asks for no names and records no visits. What students choose and write stays in their browsers.
  The connection is not encrypted (no TLS): others on the network can read what is sent, and alter it.
  Ask whoever runs this network first, and follow its rules. Press Ctrl-C after the lesson to stop it.
`;
