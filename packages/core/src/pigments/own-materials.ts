import { type Material, materialById, type MaterialEntry, materialOf, MATERIALS } from './knowledge.ts';

/** Entries of a specialist's own, beside the materials that come with the program. Plain data. */
export interface OwnMaterials {
  /** Name of the file they were read from, and the SHA-256 of its bytes. */
  readonly file: string;
  readonly sha256: string;
  readonly entries: readonly MaterialEntry[];
}

/** The materials that a reading chooses from. */
export interface MaterialsInUse {
  readonly list: readonly Material[];
  readonly byId: (id: string) => Material | undefined;
}

/** The materials that come with the program; an own entry stands in place of one with its id, the others after them all. */
export function materialsInUse(own: OwnMaterials | null | undefined): MaterialsInUse {
  if (!own) return { list: MATERIALS, byId: materialById };
  const byId = new Map(MATERIALS.map((material) => [material.id, material]));
  for (const entry of own.entries) byId.set(entry.id, materialOf(entry));
  return { list: [...byId.values()], byId: (id) => byId.get(id) };
}

/** Ids of materials that own entries stand in place of. */
export function replacedBy({ entries }: OwnMaterials): string[] {
  return entries.flatMap(({ id }) => (materialById(id) === undefined ? [] : [id]));
}
