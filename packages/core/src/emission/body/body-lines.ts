import { LINE_TABLE } from '../../atomic/lines.ts';
import type { SubshellIndex } from '../../atomic/shells.ts';
import { SUBSHELLS } from '../../atomic/shells.ts';
import type { Arrangement, Part } from './arrangement.ts';

/**
 * Lines of all parts together: photons per beam electron and steradian for every line of LINE_TABLE.
 *
 * The absolute scale is that of each part's thick specimen, so ratios of a film to its thick standard are those of the depth
 * distribution, t phi(0) / F when thin. In absolute terms a thin film then has sigma N t phi(0) times the ratio of our
 * integral of sigma/S to the F of the depth model: 0.84 to 1.09, median 0.98 (tests/published/stack.test.ts).
 * Fluorescence is each part's own; what one part excites in another is left out.
 */
export function bodyLines({ parts, share }: Arrangement): Float64Array {
  const out = new Float64Array(LINE_TABLE.count);
  for (const z of elementsOf(parts)) {
    for (let s = 0; s < SUBSHELLS.length; s++) {
      const thick = parts.map(({ matter }) => matter.generated(z).depths[s]);
      if (!thick.every((depth) => depth !== undefined)) continue;
      const emerging = share(thick);
      parts.forEach((part, k) => {
        const fraction = part.matter.composition[z];
        const photons = part.matter.generated(z).photons[s];
        if (!(fraction > 0 && photons > 0 && part.massThickness > 0)) return;
        const scale = (fraction * photons) / thick[k].generated;
        for (const i of linesOfSubshell(z, s)) {
          const chis = parts.map(({ matter }) => matter.chi[i]);
          const photonsOut = scale * LINE_TABLE.relative[i] * emerging(k, chis);
          out[i] += photonsOut * (1 + part.matter.fluorescence(i, part.massThickness));
        }
      });
    }
  }
  return out;
}

function elementsOf(parts: readonly Part[]): number[] {
  const all = [...LINE_TABLE.first.keys()].slice(1, -1);
  return all.filter((z) => parts.some(({ matter }) => matter.composition[z] > 0));
}

function linesOfSubshell(z: number, s: SubshellIndex): number[] {
  const rows: number[] = [];
  for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) if (LINE_TABLE.subshell[i] === s) rows.push(i);
  return rows;
}
