import { MATERIALS } from '../pigments/knowledge.ts';
import { opticsOf } from '../pigments/optics-table.ts';

let known: readonly string[] | undefined;

/** Names of phases that diffraction may find: those of the materials known here, by alphabet. Read when first asked for. */
export const phases = (): readonly string[] =>
  (known ??= [...new Set(MATERIALS.flatMap(({ id }) => opticsOf(id).diffraction?.value ?? []))].sort());
