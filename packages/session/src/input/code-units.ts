/** Orders texts by code units: the same on every machine, whatever its language. */
export const byCodeUnits = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
