// Places of a source where one small change makes a mutant, found by the TypeScript parser.
import { readFileSync } from 'node:fs';
import ts from 'typescript';

const K = ts.SyntaxKind;
const OPERATORS = new Map([
  [K.LessThanToken, '<='],
  [K.LessThanEqualsToken, '<'],
  [K.GreaterThanToken, '>='],
  [K.GreaterThanEqualsToken, '>'],
  [K.PlusToken, '-'],
  [K.MinusToken, '+'],
  [K.AsteriskToken, '/'],
  [K.SlashToken, '*'],
  [K.AmpersandAmpersandToken, '||'],
  [K.BarBarToken, '&&'],
  [K.EqualsEqualsEqualsToken, '!=='],
  [K.ExclamationEqualsEqualsToken, '==='],
]);
const CALLS = new Map([
  ['Math.max', 'Math.min'],
  ['Math.min', 'Math.max'],
  ['Math.abs', ''],
  ['Math.floor', 'Math.ceil'],
  ['Math.ceil', 'Math.floor'],
]);

/** `{ file, at, line, from, to }` of every place: operators turned over, numbers half as large again, conditions the other way round. */
export function sitesOf(file) {
  const text = readFileSync(file, 'utf8');
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const sites = [];
  const add = (node, to) => {
    const at = node.getStart(source);
    const line = source.getLineAndCharacterOfPosition(at).line + 1;
    sites.push({ file, at, line, from: node.getText(source), to });
  };
  const visit = (node) => {
    if (ts.isTypeNode(node) || ts.isImportDeclaration(node) || ts.isInterfaceDeclaration(node)) return;
    if (ts.isBinaryExpression(node) && OPERATORS.has(node.operatorToken.kind) && !joinsText(node))
      add(node.operatorToken, OPERATORS.get(node.operatorToken.kind));
    else if (ts.isNumericLiteral(node)) add(node, Number(node.text) === 0 ? '1' : `(1.5 * ${node.getText(source)})`);
    else if (ts.isCallExpression(node) && CALLS.has(node.expression.getText(source)))
      add(node.expression, CALLS.get(node.expression.getText(source)));
    else if (ts.isIfStatement(node) || ts.isConditionalExpression(node)) {
      const condition = node.expression ?? node.condition;
      add(condition, `!(${condition.getText(source)})`);
    } else if (node.kind === K.TrueKeyword || node.kind === K.FalseKeyword)
      add(node, node.kind === K.TrueKeyword ? 'false' : 'true');
    ts.forEachChild(node, visit);
  };
  visit(source);
  return sites;
}

/** A plus between texts is no arithmetic. */
function joinsText({ left, right, operatorToken }) {
  const isText = (node) => ts.isStringLiteralLike(node) || ts.isTemplateExpression(node);
  return operatorToken.kind === K.PlusToken && (isText(left) || isText(right));
}
