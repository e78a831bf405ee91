/** A page to read or print without scripts: black on white, one column. */

export const escaped = (text: string): string => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);

/** @param body markup */
export const paper = (title: string, body: readonly string[]): string =>
  [
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">` +
      `<link rel="icon" href="data:,"><title>${escaped(title)}</title><style>${STYLE}</style></head><body>`,
    ...body,
    '</body></html>\n',
  ].join('\n');

const STYLE =
  'body{font:15px/1.45 Georgia,serif;max-width:46rem;margin:1rem auto;padding:0 1rem;color:#000;background:#fff}h1{font-size:1.35rem}h2{font-size:1.05rem;margin:.8rem 0 .2rem}' +
  'p{margin:.2rem 0}.choices{list-style:"\\25A1\\00A0";padding-left:1.2rem}.blank{display:block;height:1.7rem;border-bottom:1px solid #888}' +
  'svg{width:100%;max-height:20rem}svg text{font-size:13px}footer{margin-top:1rem;font-size:.85rem}li{margin:.25rem 0}dt{font-weight:bold}dd{margin:0 0 .4rem 1rem}a{color:inherit}';
