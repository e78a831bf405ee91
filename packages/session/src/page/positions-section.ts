import { positionsSection } from '@limner/core';
import type { SampleMap } from '../summary/sample-map.ts';
import { mapFigure } from './map-figure.ts';
import { profileFigure } from './profile-figure.ts';
import { treeHtml } from './tree-html.ts';

export const POSITIONS_STYLE = `
svg.graph { display: block; max-width: 100%; height: auto; font-size: 12px; margin: 0.8rem 0; }
.key { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.2rem 1.2rem; max-width: 42rem; font-size: 0.9rem; }
.key svg { width: 16px; height: 16px; vertical-align: -3px; }
`.trim();

/** The report's section on where the spectra were taken. @param without number of spectra that state no position */
export function positionsHtml(maps: readonly SampleMap[], without: number): string {
  const of = (sample: string | undefined): SampleMap | undefined => maps.find((map) => map.sample === (sample ?? null));
  return treeHtml([positionsSection(maps, without)], 'session', {
    level: 2,
    drawn: ({ figure, of: [sample], caption }) => {
      const map = of(sample);
      if (map === undefined) return '';
      if (figure === 'map') return mapFigure(map.points, caption);
      return map.profile ? profileFigure(map.profile, caption) : '';
    },
  });
}
