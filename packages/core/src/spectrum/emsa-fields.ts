import type { EmsaHeader } from './emsa-header.ts';
import type { FileWarnings } from './file-warning.ts';
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

export function fieldsOf(header: EmsaHeader, warnings: FileWarnings): HeaderFields {
  const title = header.text('TITLE');
  const positive = (key: string): number | null => {
    const value = header.quantity(key);
    return value !== null && value > 0 ? value : null;
  };
  const liveTimeS = positive('LIVETIME');
  const realTimeS = positive('REALTIME');
  if (liveTimeS !== null && realTimeS !== null && liveTimeS > 1.001 * realTimeS) {
    warnings.add({ code: 'times-inconsistent', liveTimeS, realTimeS });
  }
  return {
    title: title === '[]' ? '' : title,
    beamKev: beamKevOf(header, warnings),
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

function beamKevOf(header: EmsaHeader, warnings: FileWarnings): number | null {
  const value = header.quantity('BEAMKV');
  if (value === null) return null;
  const kv = value > VOLTS_ABOVE ? value / 1000 : value;
  if (!(kv >= LOWEST_KV && kv <= HIGHEST_KV)) {
    warnings.add({ code: 'beam-absurd', kv: value });
    return null;
  }
  if (kv !== value) warnings.add({ code: 'beam-in-volts', volts: value, kv });
  if (kv > SCANNING_KV) warnings.add({ code: 'beam-high', kv });
  return kv;
}

/** Warns of what the header says against the counts being X-ray counts as measured. */
export function checkNature(header: EmsaHeader, warnings: FileWarnings): void {
  const signal = header.text('SIGNALTYPE').toUpperCase();
  if (signal !== '' && !/ED[SX]|XRF|X-?RAY/.test(signal)) {
    warnings.add({ code: 'signal-type', found: header.text('SIGNALTYPE') });
  }
  if (/cps|\/\s*s|per\s*sec|rate/i.test(header.text('YUNITS').slice(0, 200))) {
    warnings.add({ code: 'yunits-rate' });
  }
  const removed = header.entries.filter(
    ({ key, value }) => /^##(ESC|SUM)\w*REM/.test(key) && /^(1|true|yes)/i.test(value),
  );
  if (removed.length > 0) {
    const kinds = new Set(removed.map(({ key }) => (key.startsWith('##ESC') ? 'escape' : 'sum')));
    warnings.add({ code: 'peaks-removed', kinds: [...kinds] });
  }
}
