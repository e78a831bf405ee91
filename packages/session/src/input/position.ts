import type { LimnerRecord } from '@limner/core';

/** Position of the stage, in the unit that the header states. */
export interface Position {
  readonly x: number;
  readonly y: number;
  /** '' where none is stated. */
  readonly unit: string;
}

/** XPOSITION and YPOSITION of the header (ISO 22029); null unless both are numbers in one unit. */
export function positionIn(header: LimnerRecord['header']): Position | null {
  const [x, y] = ['XPOSITION', 'YPOSITION'].map((key) => {
    const { value = '', unit = '' } = header.find((entry) => entry.key === key) ?? {};
    return { value: value.trim() === '' ? NaN : Number(value.trim().replace(',', '.')), unit: unit.trim() };
  });
  if (!x || !y || !Number.isFinite(x.value) || !Number.isFinite(y.value) || x.unit !== y.unit) return null;
  return { x: x.value, y: y.value, unit: x.unit };
}
