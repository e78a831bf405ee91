import { log1p } from '../arithmetic/exponential.ts';
import { LINE_TABLE } from '../atomic/lines.ts';
import { edgeEv } from '../atomic/shells.ts';
import { realTimeS as realTimeAt, DEFAULT_DEAD_TIME_S } from '../detector/dead-time.ts';
import { DEFAULT_PILE_UP, type PileUp, withPileUp } from '../detector/pile-up.ts';
import { SILICON_K_EDGE_EV } from '../detector/silicon-k.ts';
import { addZeroPeak } from '../detector/zero-peak.ts';
import type { Body } from '../emission/body/body.ts';
import { type BodyEmission, createBodyEmission, type EmittedByBody } from '../emission/body/body-emission.ts';
import { memoise } from '../model/memoise.ts';
import { addShelf } from './shelf.ts';
import type { Setup } from './conditions.ts';
import type { Bent } from './perturb.ts';
import { responseOf, type Stretch } from './response.ts';

/** Lines below this part of the strongest one leave no trace. */
const NEGLIGIBLE = 1e-7;

export interface Expected {
  /** Counts per channel of the axis counted on, noise-free: lines with escape peaks, continuum, shelf, the detector's own Si, sums, zero peak. */
  readonly counts: Float64Array;
  /** Real time for the live time, s; null without a live time, or where the electronics would hardly come to record. */
  readonly realTimeS: number | null;
}

export function expectedCounts(body: Body, setup: Setup, bent: Bent): Expected {
  const { beamEv, takeOffDeg, liveTimeS } = setup;
  const pulses = arriving(
    emittedBy({ body, beam: { beamEv, takeOffDeg, attenuation: bent.attenuation } }),
    setup,
    bent,
  ).map((place) => addShelf(place, bent.axis, bent.detector.shelf));
  const photons = scaled(pulses, setup);
  const recorded = scaledToTotal(summed(photons, setup, bent), setup);
  if (setup.zeroPeakCounts > 0) addZeroPeak(recorded, bent.axis, bent.detector, setup.zeroPeakCounts);
  return { counts: recorded, realTimeS: liveTimeS === null ? null : realTime(liveTimeS, sumOfAll(photons)) };
}

/** Beams memoised. */
const BEAMS = 4;

interface Beam {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  readonly attenuation: number;
}

const emissionFor = memoise<Beam, BodyEmission>(
  BEAMS,
  (beam) => JSON.stringify(beam),
  ({ beamEv, takeOffDeg, attenuation }) => createBodyEmission(beamEv, takeOffDeg, { attenuation }),
);

/** Bodies memoised: noise, dose and detector are changed more often than what the beam meets. */
const BODIES = 2;

interface UnderBeam {
  readonly beam: Beam;
  readonly body: Body;
}

const emittedBy = memoise<UnderBeam, EmittedByBody>(BODIES, textOf, ({ beam, body }) => {
  const emitted = emissionFor(beam).of(body);
  const samples = (energiesEv: Float64Array): string => [energiesEv[0], energiesEv[1], energiesEv.length].join();
  const continuum = memoise(1, samples, (energiesEv: Float64Array) => emitted.continuum(energiesEv));
  return { lines: emitted.lines, continuum };
});

/** Every number as it is: JSON alone has no infinite thickness. */
function textOf(seen: UnderBeam): string {
  return JSON.stringify(seen, (_, value: unknown) => (typeof value === 'number' ? String(value) : value));
}

/** Pulses per channel, per beam electron and steradian, from each kind of place. */
function arriving(emitted: EmittedByBody, { counted: { channels } }: Setup, bent: Bent): Float64Array[] {
  const { lines } = emitted;
  const { detector, axis, shapes } = bent;
  const response = responseOf({ detector, axis, channels, shapes });
  const { energiesEv } = response;
  const photonsPerEv = emitted
    .continuum(energiesEv)
    .map((photons, i) => (photons > 0 ? photons * bent.continuum(energiesEv[i]) : 0));
  const continuum = response.continuum(photonsPerEv);
  const siliconOfContinuum = response.siliconOfContinuum(photonsPerEv);
  const least = NEGLIGIBLE * lines.reduce((a, b) => Math.max(a, b), 0);
  return bent.phases(0).map((ofContinuum, place) => {
    const out = continuum.map((value) => value * ofContinuum);
    let silicon = siliconOfContinuum * ofContinuum;
    for (let i = 0; i < LINE_TABLE.count; i++) {
      if (!(lines[i] > least)) continue;
      const line = response.line(i);
      const photons = lines[i] * bent.line(i) * bent.phases(LINE_TABLE.z[i])[place];
      silicon += photons * line.silicon;
      addTo(out, line.counts, photons);
    }
    const ownSilicon = bent.detectorSilicon * countsAbove(out, axis, SILICON_K_EDGE_EV);
    addTo(out, response.aluminiumPeak, bent.detectorAluminium * countsAbove(out, axis, ALUMINIUM_K_EDGE_EV));
    addTo(out, response.siliconPeak, silicon + ownSilicon);
    return out;
  });
}

const ALUMINIUM_K_EDGE_EV = edgeEv(13, 0);

function addTo(out: Float64Array, { from, values }: Stretch, factor: number): void {
  for (let k = 0; k < values.length; k++) out[from + k] += factor * values[k];
}

function countsAbove(counts: Float64Array, { offsetEv, gainEv }: Setup['axis'], energyEv: number): number {
  return sum(counts.subarray(Math.max(0, Math.ceil((energyEv - offsetEv) / gainEv))));
}

/** Recorded counts where photons that arrive together count as one. Each kind of place has its share of the time. */
function summed(photons: readonly Float64Array[], setup: Setup, bent: Bent): Float64Array {
  const { pileUp, liveTimeS } = setup;
  if (pileUp === 0 || liveTimeS === 0) return total(photons);
  const times = typeof pileUp === 'number' ? ofPart(pileUp, sumOfAll(photons)) : pileUp;
  const timeS = (typeof pileUp === 'number' ? 1 : liveTimeS!) / photons.length;
  // Sums of energies that all count from a shifted zero are shifted by it once for each photon beyond the first.
  const axis = { ...bent.axis, offsetEv: bent.axis.offsetEv + bent.sumShiftEv };
  return total(
    photons.map((place) => {
      if (typeof pileUp !== 'number') checkRate(sum(place) / timeS, pileUp);
      return withPileUp(place, axis, timeS, times, bent.detector.noiseEv);
    }),
  );
}

function checkRate(perS: number, { blindTimeS, resolvingTimeS }: PileUp): void {
  if (perS * Math.max(blindTimeS, resolvingTimeS) > MOST_PER_WINDOW)
    throw new RangeError(
      `${perS.toPrecision(2)} photons per second are more than the electronics can tell apart; lower the current or the solid angle, or count for longer.`,
    );
}

/** A part of sums says nothing of electronics: photons of any energy meet alike. Of windows of time t, 1 - exp(-n t) hold more than one. */
function ofPart(part: number, photonsPerS: number): PileUp {
  const time = photonsPerS > 0 ? -log1p(-part) / photonsPerS : 0;
  return { ...DEFAULT_PILE_UP, resolvingTimeS: time, blindTimeS: time, fastThresholdEv: BELOW_ALL_EV };
}

const BELOW_ALL_EV = -1e6;

/** Beyond this many photons per blind time the account of windows that meet breaks down. */
const MOST_PER_WINDOW = 0.5;

/** From photons per electron and steradian to counts. */
function scaled(places: readonly Float64Array[], { dose, totalCounts }: Setup): Float64Array[] {
  const factor = dose ?? factorTo(totalCounts!, sumOfAll(places));
  return places.map((place) => place.map((value) => value * factor));
}

function scaledToTotal(counts: Float64Array, { totalCounts }: Setup): Float64Array {
  if (totalCounts === null) return counts;
  const factor = factorTo(totalCounts, sum(counts));
  return counts.map((value) => value * factor);
}

const factorTo = (wanted: number, is: number): number => (is > 0 ? wanted / is : 0);

/** Beyond this many arrivals per dead time next to nothing is recorded. */
const MOST_ARRIVALS = 10;

function realTime(liveTimeS: number, photons: number): number | null {
  if (!(liveTimeS > 0)) return liveTimeS;
  const arrivingPerS = photons / liveTimeS;
  if (arrivingPerS * DEFAULT_DEAD_TIME_S > MOST_ARRIVALS) return null;
  return Number(realTimeAt(liveTimeS, arrivingPerS, DEFAULT_DEAD_TIME_S).toPrecision(6));
}

const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

const sumOfAll = (places: readonly Float64Array[]): number => places.reduce((a, place) => a + sum(place), 0);

function total([first, ...others]: readonly Float64Array[]): Float64Array {
  return others.length === 0 ? first : first.map((value, i) => others.reduce((a, place) => a + place[i], value));
}
