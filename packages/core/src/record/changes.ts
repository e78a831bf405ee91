import { Type, type Static } from 'typebox';

const GivenFile = Type.Object({ file: Type.String(), sha256: Type.String() });
/** A file that a person gave beside a spectrum: its name, and the SHA-256 of its bytes. */
export type GivenFile = Static<typeof GivenFile>;

/**
 * What a person changed against the usual reading, to argue with it: kept with the record that came of it, and in the address of the page.
 * Empty lists and nulls leave a thing as it is.
 */
export const Changes = Type.Object({
  claim: Type.Array(
    Type.Object({
      symbol: Type.String(),
      massFraction: Type.Union([Type.Number({ exclusiveMinimum: 0, maximum: 1 }), Type.Null()]),
    }),
  ),
  without: Type.Array(Type.String()),
  mount: Type.Array(Type.String()),
  /** Other observations, by name. */
  seen: Type.Record(Type.String(), Type.String()),
  beamKev: Type.Union([Type.Number(), Type.Null()]),
  axis: Type.Union([Type.Object({ gainEv: Type.Number(), offsetEv: Type.Number() }), Type.Null()]),
  /** Year that the object is said to date from, BCE negative. */
  dated: Type.Union([Type.Integer(), Type.Null()]),
  /** A table of own materials; the page keeps the file. */
  materials: Type.Union([GivenFile, Type.Null()]),
  /** Spectra of known materials, each with what it is said to be; the page keeps the files. */
  references: Type.Array(Type.Object({ ...GivenFile.properties, label: Type.String() })),
});
export type Changes = Static<typeof Changes>;

/** The usual reading: nothing claimed, excluded, seen or set. */
export const NO_CHANGES: Changes = {
  claim: [],
  without: [],
  mount: [],
  seen: {},
  beamKev: null,
  axis: null,
  dated: null,
  materials: null,
  references: [],
};
