import { massFractionsOf } from '../atomic/composition.ts';
import { symbolOf } from '../atomic/elements.ts';
import type { Line } from '../atomic/lines.ts';
import { edgeEv } from '../atomic/shells.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { efficiency } from '../detector/efficiency.ts';
import { createEmission } from '../emission/thick/characteristic.ts';

/** A line with what a spectrum of its pure element would show of it. */
export interface ExpectedLine {
  readonly line: Line;
  /** Beam energy above which the line is excited at all, eV. */
  readonly edgeEv: number;
  readonly excited: boolean;
  /** Photons recorded per beam electron and steradian, of the thick, pure element behind a present-day silicon detector; 0 where not excited. */
  readonly photons: number;
}

/** A usual take-off angle: the order of the lines hardly depends on it. */
const TAKE_OFF_DEG = 40;

/** Lines by expected strength under a beam, those that it does not excite last, nearest edge first. */
export function byExpectedStrength(lines: readonly Line[], beamEv: number): ExpectedLine[] {
  return expectedLines(lines, beamEv).sort(
    (a, b) => b.photons - a.photons || a.edgeEv - b.edgeEv || a.line.index - b.line.index,
  );
}

/** The same in the order given. @throws RangeError for a beam that makes no sense */
export function expectedLines(lines: readonly Line[], beamEv: number): ExpectedLine[] {
  const emission = createEmission(beamEv, TAKE_OFF_DEG);
  const emitted = new Map<number, Float64Array>();
  const of = (z: number): Float64Array => {
    const known =
      emitted.get(z) ??
      emission.lines(
        massFractionsOf(symbolOf(z)),
        Uint8Array.from({ length: z + 1 }, (_, i) => Number(i === z)),
      );
    emitted.set(z, known);
    return known;
  };
  return lines.map((line) => {
    const edge = edgeEv(line.z, line.subshell);
    const excited = edge < beamEv;
    const photons = excited ? of(line.z)[line.index] * efficiency(DEFAULT_DETECTOR, line.energyEv) : 0;
    return { line, edgeEv: edge, excited, photons };
  });
}
