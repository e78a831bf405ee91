/** For `sort`: the smaller number first. */
export const ascending = (a: number, b: number): number => a - b;
