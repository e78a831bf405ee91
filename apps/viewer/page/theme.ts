import { h } from './dom.ts';
import { keepText, keptText } from './kept.ts';

type Look = 'system' | 'light' | 'dark';

/** When the dark style sheet holds, as a media query. */
const HOLDS: Readonly<Record<Look, string>> = {
  system: 'screen and (prefers-color-scheme: dark)',
  light: 'not all',
  dark: 'screen',
};
const NAMES: Readonly<Record<Look, string>> = { system: 'same as system', light: 'light', dark: 'dark' };
const KEPT_AS = 'limner look';

const sheet = (): HTMLLinkElement => document.getElementById('dark') as HTMLLinkElement;

/** The choice between light and dark, kept in this browser. @param changed called after the colours have changed */
export function lookChoice(changed: () => void): HTMLElement {
  const kept = keptLook();
  sheet().media = HOLDS[kept];
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', changed);
  const choose = (event: Event): void => {
    const look = (event.target as HTMLSelectElement).value as Look;
    sheet().media = HOLDS[look];
    keepText(KEPT_AS, look);
    changed();
  };
  const option = (look: Look) => h('option', { value: look, selected: look === kept }, NAMES[look]);
  return h(
    'label',
    { class: 'look' },
    'Colours ',
    h('select', { onchange: choose }, (Object.keys(NAMES) as Look[]).map(option)),
  );
}

/** Where nothing is kept, the system decides. */
function keptLook(): Look {
  const kept = keptText(KEPT_AS);
  return kept in HOLDS ? (kept as Look) : 'system';
}

/** On paper only the light colours hold. */
export const onPaper = (paper: boolean): void => void (sheet().disabled = paper);

/** What `make` makes with the colours of paper. */
export function asOnPaper<T>(make: () => T): T {
  const was = sheet().disabled;
  onPaper(true);
  try {
    return make();
  } finally {
    onPaper(was);
  }
}
