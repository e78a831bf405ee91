import { onPaper } from './theme.ts';

/**
 * Readies the reading for paper: folded lists marked `data-paper` open, the figure takes the width of a sheet; afterwards all is as before. The long
 * lists of materials stay folded: they are in the record.
 */
export function watchPrinting(main: HTMLElement, redraw: () => void): void {
  let opened: HTMLDetailsElement[] = [];

  function toPaper(): void {
    if (main.classList.contains('paper')) return;
    opened = [...main.querySelectorAll<HTMLDetailsElement>('details[data-paper]:not([open])')];
    for (const details of opened) details.open = true;
    main.classList.add('paper');
    onPaper(true);
    redraw();
  }
  function toScreen(): void {
    if (!main.classList.contains('paper')) return;
    for (const details of opened) details.open = false;
    main.classList.remove('paper');
    onPaper(false);
    redraw();
  }

  window.addEventListener('beforeprint', toPaper);
  window.addEventListener('afterprint', toScreen);
  matchMedia('print').addEventListener('change', ({ matches }) => (matches ? toPaper() : toScreen()));
}
