// Closed lists of the words in data/pigments/optics.csv, told in data/README.md.

/** What the grain shows under the light microscope; violet stands for purple too, metallic for the lustre of a metal. */
export const COLOURS = [
  'colourless',
  'white',
  'grey',
  'black',
  'yellow',
  'orange',
  'red',
  'pink',
  'violet',
  'blue',
  'green',
  'brown',
  'metallic',
] as const;
export type Colour = (typeof COLOURS)[number];

export const OPACITIES = ['transparent', 'translucent', 'opaque'] as const;
export type Opacity = (typeof OPACITIES)[number];

/** coccolith, diatom: remains of either, whole or broken. */
export const SHAPES = [
  'rounded',
  'angular',
  'plate',
  'fibre',
  'needle',
  'spherulite',
  'splinter',
  'conchoidal',
  'aggregate',
  'coccolith',
  'diatom',
] as const;
export type Shape = (typeof SHAPES)[number];

/** Between crossed polars: dark in every position, or not. */
export const ISOTROPIES = ['isotropic', 'anisotropic'] as const;
export type Isotropy = (typeof ISOTROPIES)[number];

/** Of the phase: low below 0.01, medium to 0.05, high to 0.2, extreme above. */
export const BIREFRINGENCES = ['none', 'low', 'medium', 'high', 'extreme'] as const;
export type Birefringence = (typeof BIREFRINGENCES)[number];

export const PLEOCHROISMS = ['none', 'weak', 'strong'] as const;
export type Pleochroism = (typeof PLEOCHROISMS)[number];

/** Glow in long-wave ultraviolet, about 365 nm; dark: darker than what lies around it. */
export const UV_RESPONSES = [
  'none',
  'dark',
  'white',
  'blue',
  'green',
  'yellow',
  'orange',
  'pink',
  'red',
  'violet',
] as const;
export type UvResponse = (typeof UV_RESPONSES)[number];

/** Microchemical tests and what they may show. Acids and alkali are dilute and cold unless the name says hot; H2SO4 is concentrated. */
export const MICROCHEMICAL_TESTS = {
  HNO3: ['gas', 'dissolves', 'partly', 'insoluble', 'decolours', 'brown', 'white'],
  HCl: ['gas', 'slow-gas', 'dissolves', 'partly', 'insoluble', 'decolours', 'sulfide-smell', 'chlorine'],
  'hot-HCl': ['dissolves'],
  NaOH: ['none', 'dissolves', 'partly', 'decolours', 'brown', 'violet', 'orange'],
  'hot-NaOH': ['black'],
  Na2S: ['none', 'black', 'brown', 'dissolves'],
  H2SO4: ['violet', 'green', 'red', 'orange'],
  H2O2: ['gas'],
  'aqua-regia': ['dissolves'],
  'iodine-azide': ['gas'],
  dithionite: ['decolours'],
  water: ['dissolves', 'slightly'],
  solvent: ['bleeds'],
  heat: ['red', 'black', 'brown', 'white', 'melts', 'burns'],
  magnet: ['attracted'],
} as const satisfies Readonly<Record<string, readonly string[]>>;

/** 'HNO3-gas', 'hot-NaOH-black', ...: every test with every outcome. */
export const MICROCHEMICAL_OUTCOMES: readonly string[] = Object.entries(MICROCHEMICAL_TESTS).flatMap(
  ([test, outcomes]) => outcomes.map((outcome) => `${test}-${outcome}`),
);
