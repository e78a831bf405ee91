// Texts kept in this browser, or for this tab.

/** A text kept in this browser; '' where there is none, or where it refuses to keep anything. */
export const keptText = (name: string): string => kept(() => localStorage, name);

/** Keeps a text in this browser; where that is refused, it holds until the page is left. */
export const keepText = (name: string, text: string): void => keep(() => localStorage, name, text);

/** The same for this tab: it survives a reload and is gone when the tab closes. */
export const keptInTab = (name: string): string => kept(() => sessionStorage, name);
export const keepInTab = (name: string, text: string): void => keep(() => sessionStorage, name, text);

function kept(store: () => Storage, name: string): string {
  try {
    return store().getItem(name) ?? '';
  } catch {
    return '';
  }
}

function keep(store: () => Storage, name: string, text: string): void {
  try {
    store().setItem(name, text);
  } catch {
    // Not kept.
  }
}
