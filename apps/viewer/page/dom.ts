type Child = Node | string | null | undefined | readonly Child[];
type Attributes = Record<string, string | number | boolean | null | undefined | ((event: Event) => void)>;

/** An HTML element with attributes, listeners (`onclick: ...`) and children. Text is always text, never markup. */
export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  return furnish(document.createElement(tag), attributes, children);
}

/** The same for SVG. */
export function s<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): SVGElementTagNameMap[K] {
  return furnish(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);
}

function furnish<E extends Element>(element: E, attributes: Attributes, children: readonly Child[]): E {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === 'function') element.addEventListener(name.replace(/^on/, ''), value);
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  append(element, children);
  return element;
}

function append(parent: Element, children: readonly Child[]): void {
  for (const child of children) {
    if (child === null || child === undefined) continue;
    if (typeof child === 'string' || child instanceof Node) parent.append(child);
    else append(parent, child);
  }
}
