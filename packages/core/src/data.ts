// The facts by themselves, as typed tables, without the physics: `@limner/core/data`.

export { elementName, MAX_Z, symbolOf, zOf } from './atomic/elements.ts';
export { LINE_TABLE, linesNear, linesOf, type Line, type LineTable } from './atomic/lines.ts';
export { DATA_VERSION } from './atomic/version.ts';
export {
  ELEMENT_HAZARDS,
  type ElementHazard,
  KNOWLEDGE_SOURCES,
  type KnowledgeSource,
  KNOWN_CLASHES,
  KNOWN_RATIOS,
  type KnownClash,
  type KnownRatio,
  LOOKALIKE_SETS,
  type LookalikeSet,
  type Material,
  materialById,
  MATERIALS,
  PIGMENT_DATA_VERSION,
} from './pigments/knowledge.ts';
