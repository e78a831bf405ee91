import type { OpticsProperty } from '../pigments/optics-table.ts';

/** A way to tell materials apart that elements cannot. */
export interface Technique {
  readonly id: 'microscopy' | 'image' | 'ultraviolet' | 'raman' | 'infrared' | 'diffraction' | 'microchemistry';
  /** Properties of data/pigments/optics.csv that it shows, the most telling first. */
  readonly shows: readonly OpticsProperty[];
  /** What it takes, against a look through the microscope (judgement). */
  readonly effort: number;
  /** It uses up or alters what it touches. */
  readonly touches: boolean;
}

/** Common practice, no source. A Raman laser can burn dark and lead-rich grains: low power is assumed. */
export const TECHNIQUES: readonly Technique[] = [
  {
    id: 'microscopy',
    shows: ['colour', 'isotropy', 'refractive_index', 'birefringence', 'pleochroism'],
    effort: 1,
    touches: false,
  },
  { id: 'image', shows: ['shape'], effort: 1, touches: false },
  { id: 'ultraviolet', shows: ['uv'], effort: 1, touches: false },
  { id: 'raman', shows: ['raman_cm1'], effort: 2, touches: false },
  { id: 'infrared', shows: ['infrared_cm1'], effort: 3, touches: false },
  { id: 'diffraction', shows: ['diffraction'], effort: 4, touches: false },
  { id: 'microchemistry', shows: ['microchemistry'], effort: 2, touches: true },
];
