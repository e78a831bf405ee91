// Words, cut-offs and rounding of a reading stand in packages/core/src/telling and nowhere else: every other place prints what it is told.
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

const read = (path: string): string => readFileSync(join(root, path), 'utf8');

const sources = (...folders: string[]): string[] =>
  folders
    .flatMap((folder) => readdirSync(join(root, folder), { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && /^(?!.*\.test\.).*\.ts$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).replaceAll(sep, '/'))
    .filter((path) => !/node_modules|\/dist\/|^packages\/core\/src\/telling\//.test(path));

/** Every node of a file below which nothing is thrown: a fault is worded where it is found. */
function* nodesOf(path: string): Generator<ts.Node> {
  const file = ts.createSourceFile(path, read(path), ts.ScriptTarget.Latest, true);
  const below = function* (node: ts.Node): Generator<ts.Node> {
    const thrown = ts.isThrowStatement(node) || (ts.isNewExpression(node) && /Error$/.test(node.expression.getText()));
    if (thrown || ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) return;
    yield node;
    const children: ts.Node[] = [];
    node.forEachChild((child) => void children.push(child));
    for (const child of children) yield* below(child);
  };
  yield* below(file);
}

const at = (path: string, node: ts.Node, text: string): string => {
  const { line } = node.getSourceFile().getLineAndCharacterOfPosition(node.getStart());
  return `${path}:${line + 1} ${text}`;
};

/** Where numbers become digits that no reader reads as a result. */
const DRAWN: Readonly<Record<string, string>> = {
  'apps/viewer/page/figure/thumbnail.ts': 'coordinates of a drawing',
  'apps/viewer/page/figure/export.ts': 'size of a drawing',
  'apps/viewer/page/calibrate/picture.ts': 'coordinates of a drawing',
  'apps/viewer/page/bench/figure.ts': 'coordinates of a drawing',
};
const ROUNDING = /\b(toFixed|toPrecision|toExponential|toLocaleString|NumberFormat)\b/;

it('no number is rounded into text outside the telling', () => {
  const wrong = sources('packages', 'apps').flatMap((path) =>
    path in DRAWN || !ROUNDING.test(read(path))
      ? []
      : [...nodesOf(path)].flatMap((node) => {
          if (!ts.isPropertyAccessExpression(node) || !ROUNDING.test(node.name.text)) return [];
          // Rounded into a number again it is data.
          const around = node.parent.parent;
          const data = ts.isCallExpression(around) && around.expression.getText() === 'Number';
          return data ? [] : [at(path, node, node.getText())];
        }),
  );
  expect(wrong).toEqual([]);
});

/** Where a reading, a session or a report could be told. */
const TELLING_PLACES = [
  ...['kinds', 'identify', 'evidence', 'pigments', 'plan', 'record', 'reading', 'fit', 'peaks'].map(
    (floor) => `packages/core/src/${floor}`,
  ),
  ...['instrument', 'summary', 'page', 'reading'].map((room) => `packages/session/src/${room}`),
  'apps/viewer/page',
];

/** Words of verdicts and results, in a text of three words or more. */
const OF_A_READING =
  /%|\b(present|open in|not.seen|blind|ruled|rivals?|explain\w*|fits|misfit|chi-square|sigma|uncertaint\w*|deviations?|mass|limit|counts|materials?|grains?|layers?|spectr(um|a)|elements?)\b/i;

/** Texts that are no telling, each with its reason. */
const ALLOWED: readonly (readonly [path: RegExp, text: RegExp, reason: string])[] = [
  [/./, /^[.@\w][^{]*\{[^}]*:/, 'style sheets'],
  [/pigments\/priors\.ts$/, /./, 'a constant stands beside its reason, which the full reading quotes'],
  [/pigments\/knowledge\.ts$/, /^… … %$/, 'a fact of the table: the formula of a mixture, as data of the record'],
  [/pigments\/(material|optics)-table\.ts$/, /;|must be$/, 'faults of a table, which name row and column'],
  [/reading\/prepare\.ts$/, /; check the axis/, 'a fault, thrown by its caller'],
  [
    /viewer\/page\/(main|element-field|bench\/bench)\.ts$/,
    /\. \p{Lu}[\p{L} /,-]*\.$/u,
    'what to do where there is nothing to show',
  ],
  [
    /viewer\/page\//,
    /^(?!.*\b(present|open|blind|fits|misfit)\b)[^.\d]{1,45}$/,
    'labels of controls, headings over the page’s own parts, addresses',
  ],
];

function textOf(node: ts.Node): string | null {
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) return node.text;
  if (!ts.isTemplateExpression(node)) return null;
  return [node.head.text, ...node.templateSpans.map(({ literal }) => literal.text)].join('…');
}

/** Sentences about a reading in a file, where they stand. */
const sentencesIn = (path: string): string[] =>
  [...nodesOf(path)].flatMap((node) => {
    const text = (textOf(node) ?? '').replace(/<[^>]*>/g, ' ').trim();
    const words = text.match(/[\p{L}…%][\p{L}…%’'-]*/gu) ?? [];
    const allowed = ALLOWED.some(([where, what]) => where.test(path) && what.test(text));
    return words.length >= 3 && OF_A_READING.test(text) && !allowed ? [at(path, node, text)] : [];
  });

it('no sentence about a reading stands outside the telling', () => {
  const wrong = sources(...TELLING_PLACES).flatMap(sentencesIn);
  expect(wrong).toEqual([]);
});

it('knows a sentence when it sees one', () => {
  const session = ['kinds', 'positions', 'instrument', 'samples'].map((name) =>
    sentencesIn(`packages/core/src/telling/session/${name}.ts`),
  );
  for (const found of session) expect(found.length).toBeGreaterThan(3);
});
