// Bytes kept for this tab: they survive a reload and are gone when the tab closes.

/** Characters made at a time: more arguments than this break some engines. */
const AT_ONCE = 8192;

/** False where they do not fit, or where the browser keeps nothing. */
export function keepBytes(name: string, bytes: Uint8Array): boolean {
  let text = '';
  for (let i = 0; i < bytes.length; i += AT_ONCE) text += String.fromCharCode(...bytes.subarray(i, i + AT_ONCE));
  try {
    sessionStorage.setItem(name, text);
    return true;
  } catch {
    return false;
  }
}

/** Null where none are kept under that name. */
export function keptBytes(name: string): Uint8Array | null {
  try {
    const text = sessionStorage.getItem(name);
    return text === null ? null : Uint8Array.from(text, (one) => one.charCodeAt(0));
  } catch {
    return null;
  }
}

/** Names that begin with the prefix, in order. */
export function keptNames(prefix: string): string[] {
  try {
    return Object.keys(sessionStorage)
      .filter((key) => key.startsWith(prefix))
      .sort();
  } catch {
    return [];
  }
}

export function dropBytes(name: string): void {
  try {
    sessionStorage.removeItem(name);
  } catch {
    // Nothing was kept.
  }
}
