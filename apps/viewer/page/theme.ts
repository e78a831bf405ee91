import { h } from './dom.ts';

type Look = 'system' | 'light' | 'dark';

/** When the dark style sheet holds, as a media query. */
const HOLDS: Readonly<Record<Look, string>> = {
  system: 'screen and (prefers-color-scheme: dark)',
  light: 'not all',
  dark: 'screen',
};
const NAMES: Readonly<Record<Look, string>> = { system: 'as the system', light: 'light', dark: 'dark' };
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
    keep(look);
    changed();
  };
  const option = (look: Look) => h('option', { value: look, selected: look === kept }, NAMES[look]);
  return h(
    'label',
    { class: 'look' },
    'Look ',
    h('select', { onchange: choose }, (Object.keys(NAMES) as Look[]).map(option)),
  );
}

/** A browser may refuse to keep anything; then the system decides at each visit. */
function keptLook(): Look {
  try {
    const kept = localStorage.getItem(KEPT_AS);
    return kept !== null && kept in HOLDS ? (kept as Look) : 'system';
  } catch {
    return 'system';
  }
}

function keep(look: Look): void {
  try {
    localStorage.setItem(KEPT_AS, look);
  } catch {
    // Not kept: it holds until the page is left.
  }
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
