export const row = (cells: readonly string[]): string => `<tr>${cells.join('')}</tr>`;
export const cell = (text: string): string => `<td>${escape(text)}</td>`;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in HTML, in an element or an attribute. */
export function escape(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
}
