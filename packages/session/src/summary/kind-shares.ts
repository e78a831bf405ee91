import type { Kind } from '@limner/core';

/** 'Pb 78 Sn 22', in per cent of the mass without the medium. */
export const sharesText = (elements: Kind['elements']): string =>
  elements.map(({ symbol, share }) => `${symbol} ${(100 * share).toPrecision(2)}`).join(' ');
