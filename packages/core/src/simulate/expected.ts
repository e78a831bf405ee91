import type { MassFractions } from '../atomic/composition.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import { efficiency } from '../detector/efficiency.ts';
import { escapeRatio, SILICON_ESCAPE_EV } from '../detector/escape.ts';
import { addLine, lineShape } from '../detector/line-shape.ts';
import { createEmission } from '../emission/characteristic.ts';
import { addPileUp, addShelf } from './artefacts.ts';
import type { Setup } from './conditions.ts';
import type { Bent } from './perturb.ts';

/** Lines below this part of the strongest one leave no trace. */
const NEGLIGIBLE = 1e-7;

/** Expected counts per channel, noise-free: lines with escape peaks, continuum, shelf, sums, zero peak. */
export function expectedCounts(composition: MassFractions, setup: Setup, bent: Bent): Float64Array {
  const emission = createEmission(setup.beamEv, setup.takeOffDeg, { attenuation: bent.attenuation });
  const out = new Float64Array(setup.channels);
  addLines(
    out,
    composition,
    emission.lines(
      composition,
      Uint8Array.from(composition, (c) => (c > 0 ? 1 : 0)),
    ),
    bent,
  );
  addContinuum(out, (energies) => emission.continuum(composition, energies), bent);
  scale(out, setup);
  const withShelf = addShelf(out, bent.axis, bent.detector.shelf);
  const recorded = addPileUp(withShelf, bent.axis, setup.pileUp);
  if (setup.totalCounts !== null) scale(recorded, setup);
  if (setup.zeroPeakCounts > 0)
    addLine(recorded, bent.axis, { ...lineShape(bent.detector, 0), ...ZERO_PEAK }, setup.zeroPeakCounts);
  return recorded;
}

const ZERO_PEAK = { centreEv: 0, naturalEv: 0, tail: 0 };

function addLines(out: Float64Array, composition: MassFractions, emitted: Float64Array, bent: Bent): void {
  const { detector, axis } = bent;
  const areas = emitted.map((photons, i) => photons * composition[LINE_TABLE.z[i]]);
  const least = NEGLIGIBLE * areas.reduce((a, b) => Math.max(a, b), 0);
  areas.forEach((photons, i) => {
    if (!(photons > least)) return;
    const energy = LINE_TABLE.energyEv[i];
    const pulses = photons * efficiency(detector, energy) * bent.line(i);
    const ratio = escapeRatio(energy);
    addLine(out, axis, lineShape(detector, energy, LINE_TABLE.widthEv[i]), pulses / (1 + ratio));
    if (ratio > 0) addLine(out, axis, lineShape(detector, energy - SILICON_ESCAPE_EV), (pulses * ratio) / (1 + ratio));
  });
}

/** Standard deviations up to which the continuum is smeared. */
const SMEAR_REACH = 5;

/** Continuum of every channel, smeared by the detector's resolution (sampled: the continuum has no sharp features left). */
function addContinuum(out: Float64Array, continuum: (energies: Float64Array) => Float64Array, bent: Bent): void {
  const { detector, axis } = bent;
  const energies = Float64Array.from(out, (_, i) => axis.offsetEv + axis.gainEv * i);
  continuum(energies).forEach((photonsPerEv, i) => {
    if (!(photonsPerEv > 0)) return;
    const pulses = photonsPerEv * axis.gainEv * efficiency(detector, energies[i]) * bent.continuum(energies[i]);
    const { centreEv, sigmaEv } = lineShape(detector, energies[i]);
    const [centre, sigma] = [
      (centreEv - axis.offsetEv) / axis.gainEv,
      Math.hypot(sigmaEv / axis.gainEv, Math.sqrt(1 / 12)),
    ];
    const to = Math.min(out.length - 1, Math.floor(centre + SMEAR_REACH * sigma));
    const height = pulses / (sigma * Math.sqrt(2 * Math.PI));
    for (let k = Math.max(0, Math.ceil(centre - SMEAR_REACH * sigma)); k <= to; k++) {
      out[k] += height * Math.exp(-0.5 * ((k - centre) / sigma) ** 2);
    }
  });
}

/** From photons per electron and steradian to counts. */
function scale(counts: Float64Array, { totalCounts, dose }: Setup): void {
  const sum = counts.reduce((a, b) => a + b, 0);
  const factor = totalCounts === null ? dose! : sum > 0 ? totalCounts / sum : 0;
  for (let i = 0; i < counts.length; i++) counts[i] *= factor;
}
