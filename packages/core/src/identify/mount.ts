import { symbolOf, zOf } from '../atomic/elements.ts';

/** What a mounting can add: elements, and whether it is all there is of them as a rule ('setting') or either may be. */
const MOUNTS: Readonly<Record<string, { readonly elements: string; readonly origin: 'setting' | 'either' }>> = {
  'carbon-stub': { elements: 'C', origin: 'either' },
  'carbon-coat': { elements: 'C', origin: 'either' },
  'carbon-tape': { elements: 'C O', origin: 'either' },
  'aluminium-stub': { elements: 'Al', origin: 'either' },
  'copper-tape': { elements: 'Cu', origin: 'either' },
  'silicon-wafer': { elements: 'Si', origin: 'either' },
  'gold-coat': { elements: 'Au', origin: 'setting' },
  'gold-palladium-coat': { elements: 'Au Pd', origin: 'setting' },
  'platinum-coat': { elements: 'Pt', origin: 'setting' },
  'chromium-coat': { elements: 'Cr', origin: 'setting' },
  resin: { elements: 'C O Cl', origin: 'either' },
  'glass-slide': { elements: 'Si Na Ca Mg O', origin: 'either' },
  'polish-alumina': { elements: 'Al O', origin: 'either' },
  'polish-silica': { elements: 'Si O', origin: 'either' },
  'polish-diamond': { elements: 'C', origin: 'either' },
  'polish-ceria': { elements: 'Ce', origin: 'either' },
  'polish-carbide': { elements: 'Si C', origin: 'either' },
};

/** Names that `mount` accepts. */
export const MOUNT_NAMES: readonly string[] = Object.keys(MOUNTS);

/** A mounting that is not one of `MOUNT_NAMES`. */
export class UnknownMountError extends Error {
  override readonly name = 'UnknownMountError';
  constructor(name: string) {
    super(`'${name}' is not a known mounting; use one or more of ${MOUNT_NAMES.join(', ')}`);
  }
}

/** Origin of each element (by Z) that the declared mounting may add. @throws UnknownMountError */
export function mountOrigins(mount: readonly string[]): Map<number, 'setting' | 'either'> {
  const origins = new Map<number, 'setting' | 'either'>();
  for (const name of mount) {
    const entry = MOUNTS[name];
    if (!Object.hasOwn(MOUNTS, name) || !entry) throw new UnknownMountError(name);
    for (const symbol of entry.elements.split(' ')) {
      const z = zOf(symbol)!;
      if (origins.get(z) !== 'setting') origins.set(z, entry.origin);
    }
  }
  return origins;
}

/** Present around every embedded grain, declared or not: carbon of resin, coat and contamination, and its oxygen. */
const ALWAYS_AROUND = new Set(['C', 'O']);

/** Likely origin of an element's counts. */
export function originOf(
  z: number,
  origins: ReadonlyMap<number, 'setting' | 'either'>,
): 'specimen' | 'setting' | 'either' {
  return origins.get(z) ?? (ALWAYS_AROUND.has(symbolOf(z)) ? 'either' : 'specimen');
}
