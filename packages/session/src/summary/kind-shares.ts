import { type Kind, significant } from '@limner/core';

/** 'Pb 78 Sn 22', in per cent of the mass without the medium. */
export const sharesText = (elements: Kind['elements']): string =>
  elements.map(({ symbol, share }) => `${symbol} ${significant(100 * share, 2)}`).join(' ');
