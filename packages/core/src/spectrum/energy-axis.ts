export type EnergyUnit = 'eV' | 'keV';

/** Linear energy axis: the centre of channel i lies at `offsetEv + gainEv * i`. */
export interface EnergyAxis {
  readonly offsetEv: number;
  readonly gainEv: number;
}
