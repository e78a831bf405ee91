import { LINE_TABLE, lineAt } from '../atomic/lines.ts';

/**
 * Line groups: lines that one measured spectrum cannot scale separately. Inside a group the physics' intensities stand;
 * between the groups of an element they hold within the stated uncertainty.
 */
export const GROUP_NAMES = [
  'Kα',
  'Kβ',
  'Lα',
  'Lβ1',
  'Lβ2',
  'Lγ',
  'Ll',
  'Lη',
  'L1',
  'Mα',
  'Mβ',
  'Mζ',
  'M3',
  'M2',
  'M1',
] as const;
export type GroupName = (typeof GROUP_NAMES)[number];
export type Family = 'K' | 'L' | 'M';

export interface LineGroup {
  readonly z: number;
  readonly name: GroupName;
  readonly family: Family;
  /** Indices into LINE_TABLE. */
  readonly lines: readonly number[];
  /** Factor on the tabulated physics where measured spectra say that it is off. */
  readonly centre: number;
  /** Relative standard uncertainty of the group against the leading group of its family. */
  readonly sigma: number;
}

/**
 * Relative uncertainty of an amount by the family of its strongest line: cross sections 8 to 11 % rms (Llovet et al., J. Phys. Chem. Ref.
 * Data 43 (2014) 013102, abstract); L yields add about 20 %, M yields 35 %.
 */
export const FAMILY_DOUBT: Readonly<Record<Family, number>> = { K: 0.08, L: 0.2, M: 0.35 };

/** The same by absorption and window at the energy of that line, eV: 25 % below 1 keV, 8 % below 2 keV (common practice, no source). */
export function softDoubt(energyEv: number): number {
  return energyEv < 1000 ? 0.25 : energyEv < 2000 ? 0.08 : 0;
}

const LAST_OF_HARDLY_KNOWN_L = 17;

/**
 * Relative uncertainty of one family (K, L, M) of an element against another. L yields: 30 to 50 % between compilations
 * (Krause 1979 for L); M yields (McGuire 1972) the same where they are measured, a factor of two below Z = 57, where
 * the M lines lie below 0.9 keV and are hardly known. L lines up to chlorine lie below 0.2 keV, where yields of some 10^-4 and the noise edge
 * leave a factor of two (that of Cl lies upon B K).
 */
export function familySigma(family: Family, z: number): number {
  if (family !== 'M') return family === 'L' && z <= LAST_OF_HARDLY_KNOWN_L ? 1 : 0.35;
  return z < 48 ? 2 : z < 57 ? 1 : z < 72 ? 0.6 : 0.45;
}

/** The line groups of an element, in the order of GROUP_NAMES; groups without lines are left out. */
export function groupsOf(z: number): readonly LineGroup[] {
  return ALL_GROUPS[z] ?? [];
}

/** Detected area of some lines, and their mean energy by area, eV (NaN where there is none). @param least area that a line must exceed to count */
export function summedLines(
  lines: readonly number[],
  areas: Float64Array,
  least = 0,
): { readonly area: number; readonly energyEv: number } {
  let [area, moment] = [0, 0];
  for (const i of lines) {
    if (areas[i] <= least) continue;
    area += areas[i];
    moment += areas[i] * LINE_TABLE.energyEv[i];
  }
  return { area, energyEv: moment / area };
}

function groupName(iupac: string): GroupName {
  const [vacancy, filler = ''] = iupac.split('-') as [string, string];
  if (vacancy === 'K') return filler.startsWith('L') ? 'Kα' : 'Kβ';
  if (vacancy === 'L1') return 'L1';
  if (vacancy === 'L2')
    return filler === 'M4' ? 'Lβ1' : filler === 'N4' || (/^[NO]/.test(filler) && filler !== 'N1') ? 'Lγ' : 'Lη';
  if (vacancy === 'L3') return /^M[45]/.test(filler) ? 'Lα' : /^M/.test(filler) ? 'Ll' : 'Lβ2';
  if (vacancy === 'M5') return /^N[67]/.test(filler) ? 'Mα' : 'Mζ';
  if (vacancy === 'M4') return /^N[67]/.test(filler) ? 'Mβ' : 'Mζ';
  return vacancy as 'M1' | 'M2' | 'M3';
}

/**
 * L lines of Z = 27 to 35 against their K lines: measured K is 1.15 to 1.45 times stronger than tabulated yields say
 * (spectra of Cu, Zn, Ga, As at 15 keV), so their L groups are centred lower.
 */
const L_CENTRE = { firstZ: 27, lastZ: 35, factor: 0.8 } as const;

function ratioTrust(z: number, name: GroupName): { centre: number; sigma: number } {
  const { centre, sigma } = trust(z, name);
  const low = name.startsWith('L') && z >= L_CENTRE.firstZ && z <= L_CENTRE.lastZ;
  return { centre: low ? centre * L_CENTRE.factor : centre, sigma };
}

/**
 * What measured spectra of known materials say against the tabulated ratios: centre factor and relative uncertainty.
 * K: Salem et al. 1974 gives 5 % for Kβ/Kα, "somewhat more below Z = 20"; Si and Al Kβ were measured 20 to 50 % above the
 * tabulated rate in silicates, and its size there follows the bond. First-row L: Ll and Lη above, L1 below the table (chemical bonding, self-absorption).
 */
function trust(z: number, name: GroupName): { centre: number; sigma: number } {
  switch (name) {
    case 'Kα':
    case 'Lα':
    case 'Mα':
      return { centre: 1, sigma: 0 };
    case 'Kβ':
      if (z <= 14) return { centre: z >= 13 ? 1.25 : 1, sigma: 0.6 };
      return { centre: 1, sigma: z <= 18 ? 0.3 : 0.05 };
    case 'Lβ1':
      return { centre: 1, sigma: 0.08 };
    case 'Lβ2':
      return { centre: 1, sigma: 0.12 };
    case 'Lγ':
      return { centre: 1, sigma: 0.15 };
    case 'Ll':
      return z <= 32 ? { centre: 1.5, sigma: 0.5 } : { centre: 1, sigma: 0.3 };
    case 'Lη':
      return z <= 32 ? { centre: 1.2, sigma: 0.3 } : { centre: 1, sigma: 0.3 };
    case 'L1':
      return z <= 32 ? { centre: 0.65, sigma: 0.4 } : { centre: 1, sigma: 0.25 };
    case 'Mβ':
      return { centre: 1, sigma: z < 64 ? 0.4 : 0.15 };
    case 'Mζ':
      // Rates tabulated within a factor of two; for La to Eu they are extrapolated.
      return { centre: 1, sigma: z < 64 ? 1.5 : 0.7 };
    case 'M3':
    case 'M2':
      return { centre: 1, sigma: 0.5 };
    case 'M1':
      return { centre: 1, sigma: 0.6 };
  }
}

function buildGroups(z: number): LineGroup[] {
  const byName = new Map<GroupName, number[]>();
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
    const name = groupName(lineAt(i).iupac);
    const lines = byName.get(name);
    if (lines) lines.push(i);
    else byName.set(name, [i]);
  }
  return GROUP_NAMES.filter((name) => byName.has(name)).map((name) => ({
    z,
    name,
    family: name[0] as Family,
    lines: byName.get(name)!,
    ...ratioTrust(z, name),
  }));
}

const ALL_GROUPS: readonly (readonly LineGroup[])[] = Array.from({ length: LINE_TABLE.first.length - 1 }, (_, z) =>
  buildGroups(z),
);
