import { MATERIALS } from '../pigments/knowledge.ts';
import { opticsOf } from '../pigments/optics-table.ts';

/** Names of phases that diffraction may find: those of the materials known here, by alphabet. */
export const PHASES: readonly string[] = [
  ...new Set(MATERIALS.flatMap(({ id }) => opticsOf(id).diffraction?.value ?? [])),
].sort();
