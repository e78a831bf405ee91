// Keywords of the EMSA/MAS spectral data format: ISO 22029:2012, and EMSA/MAS 1.0 of 1991 that it took over.
// From memory; the document was not at hand.

/** What the value of a keyword measures, for its unit; 'plain' numbers have no unit that is converted here. */
export type Quantity = 'voltage' | 'current' | 'time' | 'angle' | 'length' | 'plain';
export type ValueKind = 'text' | Quantity;

/** Required keywords in the order in which the standard lists them; SPECTRUM opens the data, ENDOFDATA closes them. */
export const REQUIRED_KEYWORDS = [
  'FORMAT',
  'VERSION',
  'TITLE',
  'DATE',
  'TIME',
  'OWNER',
  'NPOINTS',
  'NCOLUMNS',
  'XUNITS',
  'YUNITS',
  'DATATYPE',
  'XPERCHAN',
  'OFFSET',
] as const;

const TEXT = 'FORMAT VERSION TITLE DATE TIME OWNER XUNITS YUNITS DATATYPE SIGNALTYPE XLABEL YLABEL COMMENT OPERMODE';
const TEXT_DETECTOR = 'ELSDET EDSDET SPECTRUM ENDOFDATA CHECKSUM';
const PLAIN = 'NPOINTS NCOLUMNS XPERCHAN OFFSET CHOFFSET MAGCAM EMISSION BEAMDIAM CONVANGLE COLLANGLE THICKNESS';
const PLAIN_STAGE = 'XPOSITION YPOSITION ZPOSITION DWELLTIME INTEGTIME SOLIDANGL';
const ANGLES = 'XTILTSTGE YTILTSTGE ELEVANGLE AZIMANGLE';
const LENGTHS = 'TDEADLYR TACTLYR TBEWIND TAUWIND TALWIND TPYWIND TBNWIND TDIWIND THCWIND';

/** Kind of value by keyword. */
export const KEYWORDS: ReadonlyMap<string, ValueKind> = new Map<string, ValueKind>([
  ...each(`${TEXT} ${TEXT_DETECTOR}`, 'text'),
  ...each(`${PLAIN} ${PLAIN_STAGE}`, 'plain'),
  ...each(ANGLES, 'angle'),
  ...each(LENGTHS, 'length'),
  ...each('LIVETIME REALTIME', 'time'),
  ...each('BEAMKV', 'voltage'),
  ...each('PROBECUR', 'current'),
]);

function each(keys: string, kind: ValueKind): [string, ValueKind][] {
  return keys.split(' ').map((key) => [key, kind]);
}

/** Factors to the unit of the standard: kV, nA, s, degrees, cm. Units in lower case; 'mv' is left out: milli or mega. */
export const UNIT_FACTORS: Record<Quantity, Record<string, number>> = {
  voltage: { kv: 1, kev: 1, v: 1e-3, ev: 1e-3 },
  current: { na: 1, pa: 1e-3, ua: 1e3, µa: 1e3, μa: 1e3, a: 1e9 },
  time: { s: 1, sec: 1, secs: 1, seconds: 1, ms: 1e-3, min: 60 },
  angle: { dg: 1, deg: 1, degree: 1, degrees: 1, '°': 1, rad: 180 / Math.PI, mrad: 0.18 / Math.PI, mr: 0.18 / Math.PI },
  length: { cm: 1, mm: 0.1, um: 1e-4, µm: 1e-4, μm: 1e-4, nm: 1e-7 },
  plain: {},
};
