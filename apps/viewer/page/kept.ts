/** A text kept in this browser; '' where there is none, or where it refuses to keep anything. */
export function keptText(name: string): string {
  try {
    return localStorage.getItem(name) ?? '';
  } catch {
    return '';
  }
}

/** Keeps a text in this browser; where that is refused, it holds until the page is left. */
export function keepText(name: string, text: string): void {
  try {
    localStorage.setItem(name, text);
  } catch {
    // Not kept.
  }
}
