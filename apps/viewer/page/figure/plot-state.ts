import type { AlternativeView } from '../reading.ts';
import type { MarkedElement } from './labels.ts';
import type { Overlay } from './overlay.ts';
import type { Scale } from './scale.ts';

/** How the figure is looked at, and what is drawn into it. */
export interface PlotState {
  readonly scale: Scale;
  readonly rangeKev: readonly [number, number];
  /** In greys on white, as a print without colour shows it. */
  readonly grey: boolean;
  readonly marked: readonly MarkedElement[];
  /** Another explanation, drawn over the fit. */
  readonly compared: AlternativeView | null;
  /** Other spectra, laid over this one. */
  readonly overlays: readonly Overlay[];
}
