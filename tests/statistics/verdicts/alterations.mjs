// Measured spectra altered as other instruments, settings and hands would have left them: what the sample holds stays the same.
// Each alteration takes { counts, axis, topEv } and draws from `random`; photons are moved one by one, so that counts stay counts.

/** Uniform numbers in [0, 1) that repeat (mulberry32, public domain). */
export function randomFrom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Standard normal number (Box, Muller 1958). */
export const normal = (random) => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** How many of n are kept, each with probability p; by the normal distribution where both outcomes are many. */
export function kept(n, p, random) {
  if (p > 0.5) return n - kept(n, 1 - p, random);
  const variance = n * p * (1 - p);
  if (variance > 50) return Math.max(0, Math.min(n, Math.round(n * p + normal(random) * Math.sqrt(variance))));
  let count = 0;
  for (let i = 0; i < n; i++) if (random() < p) count++;
  return count;
}

const energy = ({ offsetEv, gainEv }, channel) => offsetEv + gainEv * channel;

/** Each count kept with a probability that depends on its energy. */
const thinned = (part) => (spectrum, random) => ({
  counts: spectrum.counts.map((n, i) => kept(Math.round(n), part(energy(spectrum.axis, i), random), random)),
});

/** More photons than this are thinned first: moving them one by one takes time. */
const MOST_MOVED = 2e6;

/** Each photon measured at another energy. */
const moved = (to) => (spectrum, random) => {
  const { counts, axis } = spectrum;
  const total = counts.reduce((sum, n) => sum + n, 0);
  const out = new Float64Array(counts.length);
  const move = to(spectrum, random);
  for (let i = 0; i < counts.length; i++) {
    for (let k = kept(Math.round(counts[i]), Math.min(1, MOST_MOVED / total), random); k > 0; k--) {
      const channel = Math.round((move(energy(axis, i + random() - 0.5)) - axis.offsetEv) / axis.gainEv);
      if (channel >= 0 && channel < out.length) out[channel]++;
    }
  }
  return { counts: out };
};

/** Energies drawn from the spectrum itself: what a photon may pile up with. */
function drawnFrom({ counts, axis }, random) {
  let sum = 0;
  const cumulative = counts.map((n) => (sum += n));
  return () => {
    const aim = random() * sum;
    let [lo, hi] = [0, cumulative.length - 1];
    while (lo < hi) {
      const middle = (lo + hi) >> 1;
      if (cumulative[middle] < aim) lo = middle + 1;
      else hi = middle;
    }
    return energy(axis, lo);
  };
}

/** Optical depth of 0.3 um of ice, about: E^-2.9, and twenty times more above the K edge of oxygen (retyped by eye, from memory). */
const ice = (ev) => Math.exp(-0.06 * (ev > 543 ? 1.8 : 0.09) * (Math.max(ev, 80) / 1000) ** -2.9);

/** Those that answer `conditions` state the beam or the take-off angle wrongly; their counts stay. */
export const ALTERATIONS = {
  'as it is': () => ({}),
  'a third of the counts': thinned(() => 0.3),
  'a tenth of the counts': thinned(() => 0.1),
  'a hundredth of the counts': thinned(() => 0.01),
  'channels joined': ({ counts, axis }) => ({
    counts: Float64Array.from({ length: counts.length >> 1 }, (_, i) => counts[2 * i] + counts[2 * i + 1]),
    axis: { gainEv: 2 * axis.gainEv, offsetEv: axis.offsetEv + axis.gainEv / 2 },
  }),
  'upper half cut off': ({ counts, axis, topEv }) => ({
    counts: counts.slice(0, Math.min(counts.length, Math.round((0.45 * topEv - axis.offsetEv) / axis.gainEv))),
  }),
  'axis from 450 eV': ({ counts, axis }) => {
    const first = Math.max(0, Math.round((450 - axis.offsetEv) / axis.gainEv));
    return { counts: counts.slice(first), axis: { ...axis, offsetEv: axis.offsetEv + first * axis.gainEv } };
  },
  'gain 0.5 % off': ({ axis }) => ({ axis: { ...axis, gainEv: axis.gainEv * 1.005 } }),
  'offset 12 eV off': ({ axis }) => ({ axis: { ...axis, offsetEv: axis.offsetEv - 12 } }),
  smoothed: ({ counts }) => ({
    counts: counts.map((n, i) => Math.round(0.25 * (counts[i - 1] ?? n) + 0.5 * n + 0.25 * (counts[i + 1] ?? n))),
  }),
  'divided by 4.2': ({ counts }) => ({ counts: counts.map((n) => n * 0.237) }),
  'wider by 28 eV rms': moved((_, random) => (ev) => ev + 28 * normal(random)),
  'axis bent by 0.15 %': moved(
    ({ topEv }) =>
      (ev) =>
        ev + 0.006 * ev * (1 - ev / topEv),
  ),
  'gain drifts by 0.2 %': moved((_, random) => (ev) => (random() < 0.5 ? ev : ev * 1.0018)),
  'charge lost': moved((_, random) => (ev) => {
    if (random() < 0.02) return ev + Math.log(1 - random()) * (100 + 0.03 * ev);
    return random() < 0.003 ? ev * random() : ev;
  }),
  '1 % more sums': moved((spectrum, random) => {
    const another = drawnFrom(spectrum, random);
    return (ev) => (random() < 0.01 ? ev + another() : ev);
  }),
  'efficiency bent by 4 %': (spectrum, random) => {
    const phase = 2 * Math.PI * random();
    return thinned((ev) => 0.96 + 0.04 * Math.sin(phase + 5 * Math.log(Math.max(ev, 100) / 1000)))(spectrum, random);
  },
  'ice on the detector': thinned(ice),
  'beam energy not told': () => ({ conditions: { beam: 'none' } }),
  'beam told a third too high': () => ({ conditions: { beam: 1.33 } }),
  'beam told a quarter too low': () => ({ conditions: { beam: 0.75 } }),
  'take-off angle told 20 degrees': () => ({ conditions: { takeOffDeg: 20 } }),
};
