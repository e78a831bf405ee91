export function table(headings: readonly string[], rows: readonly string[]): string {
  if (rows.length === 0) return '';
  const head = headings.map((heading) => `<th scope="col">${escape(heading)}</th>`).join('');
  return `<div class="wide"><table><thead><tr>${head}</tr></thead><tbody>\n${rows.join('\n')}\n</tbody></table></div>`;
}

export function listOf(heading: string, items: readonly string[]): string {
  if (items.length === 0) return '';
  return `<h3>${escape(heading)}</h3><ul>${items.map((item) => `<li>${escape(item)}</li>`).join('')}</ul>`;
}

export const row = (cells: readonly string[]): string => `<tr>${cells.join('')}</tr>`;
export const cell = (text: string, kind?: 'number'): string =>
  `<td${kind ? ` class="${kind}"` : ''}>${escape(text)}</td>`;

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
