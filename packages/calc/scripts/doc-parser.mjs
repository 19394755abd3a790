// Reads the docstrings of calculation functions with the TypeScript parser: the one source of the registry's texts.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

/** @typedef {{ comment: string | undefined, isNumber: boolean }} FieldComment */
/** @typedef {Record<string, Record<string, FieldComment>>} Interfaces by their names, field by field */
/** @typedef {{ name: string, text: string }} Tag */
/**
 * @typedef {object} DocumentedFunction
 * @property {string} name
 * @property {string} summary
 * @property {Tag[]} tags
 * @property {number} parameterCount
 * @property {string} inputType
 * @property {string} resultType
 */
/** @typedef {import('../dist/registry/docs.types.js').CalculationDoc} CalculationDoc */

/** Files of calculations lie in these folders of src; the registry itself and shared helpers do not carry docstrings. */
const SKIPPED = new Set(['registry', 'pressure-ladder']);

/**
 * @param {string} folder
 * @returns {string[]}
 */
export function listSourceFiles(folder) {
  return readdirSync(folder)
    .flatMap((name) => {
      const file = path.join(folder, name);
      if (statSync(file).isDirectory()) return SKIPPED.has(name) ? [] : listSourceFiles(file);
      return name.endsWith('.ts') && !name.endsWith('.test.ts') ? [file] : [];
    })
    .sort();
}

/**
 * @param {ts.InterfaceDeclaration | ts.TypeLiteralNode} node
 * @param {(name: string, comment: string | undefined, isNumber: boolean) => void} add
 */
function readFields(node, add) {
  for (const member of node.members) {
    if (!ts.isPropertySignature(member)) continue;
    const jsDoc = ts.getJSDocCommentsAndTags(member)[0];
    const comment = jsDoc ? ts.getTextOfJSDocComment(jsDoc.comment) : undefined;
    const isNumber =
      member.type?.kind === ts.SyntaxKind.NumberKeyword ||
      (member.type !== undefined &&
        ts.isUnionTypeNode(member.type) &&
        member.type.types.some((part) => part.kind === ts.SyntaxKind.NumberKeyword));
    add(member.name.getText(), comment, isNumber);
    if (member.type && ts.isTypeLiteralNode(member.type)) readFields(member.type, add);
  }
}

/**
 * The interfaces (field → comment) and the documented exported functions of a file.
 * @param {string} file
 */
export function readDocs(file) {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);
  /** @type {Interfaces} */
  const interfaces = {};
  /** @type {DocumentedFunction[]} */
  const functions = [];
  for (const statement of source.statements) {
    if (ts.isInterfaceDeclaration(statement)) {
      /** @type {Record<string, FieldComment>} */
      const fields = {};
      readFields(statement, (name, comment, isNumber) => {
        fields[name] = { comment, isNumber };
      });
      interfaces[statement.name.text] = fields;
    }
    if (!ts.isFunctionDeclaration(statement) || !statement.name) continue;
    if (!statement.modifiers?.some((modifier) => modifier.kind === ts.SyntaxKind.ExportKeyword)) continue;
    const jsDoc = ts.getJSDocCommentsAndTags(statement).find(ts.isJSDoc);
    const tags = ts.getJSDocTags(statement).map((tag) => ({
      name: tag.tagName.text,
      text: (ts.getTextOfJSDocComment(tag.comment) ?? '').trim(),
    }));
    functions.push({
      name: statement.name.text,
      summary: (jsDoc ? (ts.getTextOfJSDocComment(jsDoc.comment) ?? '') : '').trim(),
      tags,
      parameterCount: statement.parameters.length,
      inputType: statement.parameters[0]?.type?.getText() ?? '',
      resultType: statement.type?.getText() ?? '',
    });
  }
  return { interfaces, functions };
}

/**
 * `D: bore, the piston's diameter [m], 0 < D` → its parts; null when it is not written so.
 * @param {string | undefined} comment
 */
export function readSymbol(comment) {
  const [, symbol, meaning, unit, limit] = /^(\w+): (.+?) \[([^\]]+)\](?:[,;] (.+))?$/s.exec(comment ?? '') ?? [];
  if (symbol === undefined || meaning === undefined || unit === undefined) return null;
  return { symbol, meaning, unit, limit: limit ?? null };
}

/**
 * @param {readonly Tag[]} tags
 * @param {string} name
 */
function toLines(tags, name) {
  return tags
    .filter((tag) => tag.name === name)
    .flatMap((tag) => tag.text.split('\n'))
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

/**
 * The texts of one calculation, as the registry shows them; null when the file holds none.
 * @param {string} file
 * @returns {CalculationDoc | null}
 */
export function toCalculationDoc(file) {
  const { interfaces, functions } = readDocs(file);
  const documented = functions.find(({ tags }) => tags.some((tag) => tag.name === 'source'));
  if (!documented) return null;
  /** @type {Record<string, { symbol: string, meaning: string }>} */
  const symbols = {};
  for (const fields of Object.values(interfaces)) {
    for (const [name, { comment }] of Object.entries(fields)) {
      if (comment === undefined) continue;
      const parts = readSymbol(comment);
      symbols[name] ??= parts ? { symbol: parts.symbol, meaning: parts.meaning } : { symbol: '', meaning: comment };
    }
  }
  const { tags, summary } = documented;
  return {
    summary,
    formula: toLines(tags, 'formula'),
    method: toLines(tags, 'method'),
    assumes: toLines(tags, 'assumes').join(' '),
    range: toLines(tags, 'range').join(' '),
    sources: toLines(tags, 'source'),
    symbols,
  };
}
