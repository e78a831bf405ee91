// What a person gives beside spectra, read from bytes and text: the part of this package that runs in a browser too.
export { pigmentsIn } from './input/pigment-table.ts';
export { referenceMaterial } from './input/reference-material.ts';
