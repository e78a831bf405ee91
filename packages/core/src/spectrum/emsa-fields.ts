import { quoted } from './emsa-error.ts';
import type { EmsaHeader } from './emsa-header.ts';
import type { Notes } from './notes.ts';
import type { Spectrum } from './spectrum.ts';

/** What the header says beyond counts and axis. */
export type HeaderFields = Pick<
  Spectrum,
  'title' | 'beamKev' | 'liveTimeS' | 'realTimeS' | 'probeCurrentNa' | 'takeOffDeg' | 'detector'
>;

// Bounds of the acceleration voltage, kV (common practice, no source).
const LOWEST_KV = 0.5;
/** Scanning instruments end at 30 to 50. */
const SCANNING_KV = 60;
/** Transmission instruments with an X-ray detector end here. */
const HIGHEST_KV = 400;
/** No instrument exceeds 4000 kV, so that such a number is volts. */
const VOLTS_ABOVE = 4000;

export function fieldsOf(header: EmsaHeader, notes: Notes): HeaderFields {
  const title = header.text('TITLE');
  const positive = (key: string): number | null => {
    const value = header.quantity(key);
    return value !== null && value > 0 ? value : null;
  };
  const liveTimeS = positive('LIVETIME');
  const realTimeS = positive('REALTIME');
  if (liveTimeS !== null && realTimeS !== null && liveTimeS > 1.001 * realTimeS) {
    notes.add('times-inconsistent', `The live time of ${liveTimeS} s exceeds the real time of ${realTimeS} s.`);
  }
  return {
    title: title === '[]' ? '' : title,
    beamKev: beamKevOf(header, notes),
    liveTimeS,
    realTimeS,
    probeCurrentNa: positive('PROBECUR'),
    takeOffDeg: header.quantity('ELEVANGLE'),
    detector: {
      type: header.text('EDSDET'),
      berylliumWindowCm: positive('TBEWIND'),
      aluminiumLayerCm: positive('TALWIND'),
      goldLayerCm: positive('TAUWIND'),
      deadLayerCm: positive('TDEADLYR'),
      activeLayerCm: positive('TACTLYR'),
      windowCm: positive('THCWIND') ?? positive('TPYWIND') ?? positive('TBNWIND') ?? positive('TDIWIND'),
    },
  };
}

function beamKevOf(header: EmsaHeader, notes: Notes): number | null {
  const value = header.quantity('BEAMKV');
  if (value === null) return null;
  const kv = value > VOLTS_ABOVE ? value / 1000 : value;
  if (!(kv >= LOWEST_KV && kv <= HIGHEST_KV)) {
    notes.add('beam-absurd', `A BEAMKV of ${value} kV is not possible; the beam energy is taken as not given.`);
    return null;
  }
  if (kv !== value) notes.add('beam-in-volts', `A BEAMKV of ${value} can only be volts; ${kv} kV was taken.`);
  if (kv > SCANNING_KV) {
    notes.add(
      'beam-high',
      `${kv} kV is the beam of a transmission instrument: amounts computed for a bulk specimen do not hold for a thin one.`,
    );
  }
  return kv;
}

/** Warns of what the header says against the counts being X-ray counts as measured. */
export function checkNature(header: EmsaHeader, notes: Notes): void {
  const signal = header.text('SIGNALTYPE').toUpperCase();
  if (signal !== '' && !/ED[SX]|XRF|X-?RAY/.test(signal)) {
    notes.add(
      'signal-type',
      `SIGNALTYPE is ${quoted(header.text('SIGNALTYPE'))}, not EDS; read as an X-ray spectrum all the same.`,
    );
  }
  if (/cps|\/\s*s|per\s*sec|rate/i.test(header.text('YUNITS').slice(0, 200))) {
    notes.add('yunits-rate', 'YUNITS are counts per time; without the counts themselves the statistics are not known.');
  }
  const removed = header.entries.filter(
    ({ key, value }) => /^##(ESC|SUM)\w*REM/.test(key) && /^(1|true|yes)/i.test(value),
  );
  if (removed.length > 0) {
    const which = removed.map(({ key }) => (key.startsWith('##ESC') ? 'escape' : 'sum')).join(' and ');
    notes.add(
      'peaks-removed',
      `The file says that ${which} peaks were taken out of the counts before they were stored.`,
    );
  }
}
