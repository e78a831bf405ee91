/**
 * A formula cut into what stands on the line and what stands low, in turns: 'As2O3*2H2O' gives 'As', '2', 'O', '3', '·2H', '2', 'O'.
 * Digits stand low after a letter or a bracket.
 */
export const formulaParts = (formula: string): string[] =>
  formula.replaceAll('*', '\u00b7').split(/(?<=[A-Za-z)\]])(\d+(?:\.\d+)?)/);
