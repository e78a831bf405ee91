import type { Detector } from './detector.ts';
import { DETECTORS } from './presets.ts';

/** What the keywords of a header say of a detector (the reader's `DetectorHeader`): thicknesses in cm, null when not given. */
export interface StatedLayers {
  /** EDSDET text, e.g. 'SIUTW'; '' when absent. */
  readonly type: string;
  readonly berylliumWindowCm: number | null;
  readonly aluminiumLayerCm: number | null;
  readonly goldLayerCm: number | null;
  readonly deadLayerCm: number | null;
  readonly activeLayerCm: number | null;
  readonly windowCm: number | null;
}

/** A detector as far as a file states it, and which of its fields the file did state. */
export interface StatedDetector {
  readonly detector: Detector;
  readonly stated: readonly (keyof Detector)[];
  /** False for crystals that are no silicon (germanium, microcalorimeters): their response is another. */
  readonly silicon: boolean;
}

/** Units of a detector's layers, and what can be in that unit: thicknesses outside are mistakes of unit and left aside. */
const WINDOW_UM = { perCm: 1e4, least: 0.01, most: 500 };
const METAL_NM = { perCm: 1e7, least: 1, most: 1000 };
const DEAD_UM = { perCm: 1e4, least: 0.001, most: 2 };
const ACTIVE_MM = { perCm: 10, least: 0.05, most: 20 };

/** Active layers above this are lithium-drifted, mm; drift detectors are made to 1 mm. */
const THICKEST_DRIFT_MM = 1.5;

/**
 * The detector that a file's header describes: the preset of its crystal and window, and over it the layers that are stated.
 * EDSDET codes are crystal (SI lithium-drifted, SD drift, GE germanium, UCAL microcalorimeter) and window (BEW beryllium, UTW
 * thin film, WLS none). SI alone does not tell the crystal: the list of 1991 had no drift detector, and files go on using it;
 * a stated active layer does. A film's material is not told apart: polymer. Source: EMSA/MAS 1.0 and ISO 22029:2012, from memory.
 */
export function detectorFromHeader(header: StatedLayers): StatedDetector {
  const type = header.type.toUpperCase();
  const window = windowOf(type, header);
  const activeMm = layer(header.activeLayerCm, ACTIVE_MM);
  const lithium = !type.startsWith('SD') && (activeMm ?? 0) > THICKEST_DRIFT_MM;
  const layers = known({
    windowUm: layer(window === 'beryllium' ? header.berylliumWindowCm : header.windowCm, WINDOW_UM),
    ...metals(window, header),
    deadLayerUm: layer(header.deadLayerCm, DEAD_UM),
    thicknessMm: activeMm,
  });
  const preset = PRESETS[lithium ? 'lithium' : 'drift'][window ?? 'polymer'];
  return {
    detector: { ...preset, ...layers },
    stated: [...(window === null ? [] : (['window'] as const)), ...(Object.keys(layers) as (keyof Detector)[])],
    silicon: !/^(GE|UCAL)/.test(type),
  };
}

const LITHIUM_OPEN: Detector = { ...DETECTORS['lithium-polymer'], window: 'none', aluminiumNm: 0 };
const PRESETS = {
  drift: {
    polymer: DETECTORS['drift-polymer'],
    beryllium: DETECTORS['drift-beryllium'],
    none: DETECTORS['drift-open'],
  },
  lithium: {
    polymer: DETECTORS['lithium-polymer'],
    beryllium: DETECTORS['lithium-beryllium'],
    none: LITHIUM_OPEN,
  },
};

function windowOf(type: string, header: StatedLayers): 'polymer' | 'beryllium' | 'none' | null {
  if (type.includes('BEW')) return 'beryllium';
  if (type.includes('UTW') || type.includes('ATW')) return 'polymer';
  if (type.includes('WLS')) return 'none';
  if (header.berylliumWindowCm !== null) return 'beryllium';
  return header.windowCm === null ? null : 'polymer';
}

/** Stated gold is a contact. Stated aluminium is the coat of a film, else a contact. */
function metals(window: string | null, { aluminiumLayerCm, goldLayerCm }: StatedLayers): Nullable {
  const aluminium = layer(aluminiumLayerCm, METAL_NM);
  const gold = layer(goldLayerCm, METAL_NM);
  const onFilm = window === 'polymer' || window === null;
  if (gold !== null) return { aluminiumNm: onFilm ? aluminium : null, contact: 'gold', contactNm: gold };
  if (onFilm || aluminium === null) return { aluminiumNm: aluminium };
  return { contact: 'aluminium', contactNm: aluminium };
}

function layer(cm: number | null, unit: { perCm: number; least: number; most: number }): number | null {
  const value = cm === null ? NaN : Number((cm * unit.perCm).toPrecision(9));
  return value >= unit.least && value <= unit.most ? value : null;
}

type Nullable = { readonly [key in keyof Detector]?: Detector[key] | null };

function known(layers: Nullable): Partial<Detector> {
  return Object.fromEntries(Object.entries(layers).filter(([, value]) => value !== null));
}
