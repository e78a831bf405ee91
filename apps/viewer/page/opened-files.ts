/** A file opened in the page. */
export interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const PREFIX = 'limner opened ';
/** Characters made at a time: more arguments than this break some engines. */
const AT_ONCE = 8192;

/** Keeps a file for this tab, so that it survives a reload; it is gone when the tab closes. One that does not fit is not kept. */
export function keepOpened({ name, bytes }: OpenedFile): void {
  let text = '';
  for (let i = 0; i < bytes.length; i += AT_ONCE) text += String.fromCharCode(...bytes.subarray(i, i + AT_ONCE));
  try {
    sessionStorage.setItem(PREFIX + name, text);
  } catch {
    // It stays open until the page is left.
  }
}

export function forgetOpened(name: string): void {
  try {
    sessionStorage.removeItem(PREFIX + name);
  } catch {
    // Nothing was kept.
  }
}

/** The files that this tab had open. */
export function keptOpened(): OpenedFile[] {
  try {
    return Object.keys(sessionStorage)
      .filter((key) => key.startsWith(PREFIX))
      .sort()
      .map((key) => ({
        name: key.slice(PREFIX.length),
        bytes: Uint8Array.from(sessionStorage.getItem(key) ?? '', (one) => one.charCodeAt(0)),
      }));
  } catch {
    return [];
  }
}
