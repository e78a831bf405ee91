// Words for what a person changed against the usual reading.

import type { Changes, GivenFile } from '../../record/changes.ts';
import { percent, trimmed, yearText } from '../terms/numerals.ts';

/** One change in words, and the changes without it. */
export interface ChangeTold {
  readonly text: string;
  readonly without: Changes;
}

/** Each change in words, with the changes that are left when it is taken back. */
export function changesTold(changes: Changes): ChangeTold[] {
  const { claim, without, mount, seen, beamKev, axis, dated, materials, references } = changes;
  return [
    ...claim.map((one) => ({
      text: `${one.symbol} claimed${one.massFraction === null ? '' : `, ${percent(one.massFraction)} by mass`}`,
      without: { ...changes, claim: claim.filter((other) => other !== one) },
    })),
    ...without.map((symbol) => ({
      text: `${symbol} excluded`,
      without: { ...changes, without: without.filter((other) => other !== symbol) },
    })),
    ...mount.map((name) => ({
      text: `mounting: ${mountText(name)}`,
      without: { ...changes, mount: mount.filter((other) => other !== name) },
    })),
    ...Object.entries(seen).map(([name, text]) => ({
      text: `seen: ${name} ${text}`,
      without: { ...changes, seen: Object.fromEntries(Object.entries(seen).filter(([other]) => other !== name)) },
    })),
    ...(beamKev === null
      ? []
      : [{ text: `beam ${trimmed(beamKev, 4)}\u00a0keV`, without: { ...changes, beamKev: null } }]),
    ...(axis === null
      ? []
      : [
          {
            text: `axis: ${trimmed(axis.gainEv, 6)}\u00a0eV per channel, channel 0 at ${trimmed(axis.offsetEv, 5)}\u00a0eV`,
            without: { ...changes, axis: null },
          },
        ]),
    ...(dated === null ? [] : [{ text: `stated year ${yearText(dated)}`, without: { ...changes, dated: null } }]),
    ...(materials === null
      ? []
      : [{ text: `own materials: ${materials.file}`, without: { ...changes, materials: null } }]),
    ...references.map((one) => ({
      text: `known material: ${one.file}, ${one.label}`,
      without: { ...changes, references: references.filter((other) => other !== one) },
    })),
  ];
}

/** 'carbon stub' */
export const mountText = (name: string): string => name.replaceAll('-', ' ');

/** A file that an address names and this browser does not have. */
export const notGiven = ({ file, sha256 }: GivenFile): string =>
  `${file} (SHA-256 begins ${sha256.slice(0, 8)}) is not kept in this tab. Give the file again, or remove the change.`;

/** What changing a reading does, and where it is kept. */
export const CHANGES_HINT =
  'Say what you know, or what you doubt. The spectrum is read again in this browser; nothing is sent. Each change is kept in the address and in ' +
  'the record that you save.';
