/** Examples below a command's help. @param command how Limner is called here   @param calls what follows it */
export const examples = (command: string, ...calls: readonly string[]): string =>
  [`\nExample${calls.length > 1 ? 's' : ''}:`, ...calls.map((call) => `  ${command} ${call}`)].join('\n');
