import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const HOOKS = ['useRecordForm', 'useEntryForm'];

export interface ListedForm {
  /** with what the ids of its fields begin, up to the id of a record */
  head: string;
  file: string;
}

function parse(file: string): ts.SourceFile {
  const text = fs.readFileSync(path.join(ROOT, file), 'utf8');
  return ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true, ts.ScriptKind.TSX);
}

function eachNode(node: ts.Node, look: (node: ts.Node) => void): void {
  look(node);
  node.forEachChild((child) => eachNode(child, look));
}

/** What a name begins with, as far as the source says it: each branch of a choice is a form of its own. */
function headsOf(name: ts.Expression): string[] | null {
  if (ts.isStringLiteralLike(name)) return [name.text];
  if (ts.isParenthesizedExpression(name)) return headsOf(name.expression);
  if (ts.isConditionalExpression(name)) {
    const branches = [headsOf(name.whenTrue), headsOf(name.whenFalse)];
    return branches.some((heads) => heads === null) ? null : branches.flatMap((heads) => heads ?? []);
  }
  if (!ts.isTemplateExpression(name)) return null;
  if (name.head.text !== '') return [name.head.text];
  const [span] = name.templateSpans;
  const heads = span === undefined ? null : headsOf(span.expression);
  return heads?.map((head) => `${head}${span?.literal.text ?? ''}`) ?? null;
}

const nameOf = (object: ts.ObjectLiteralExpression): ts.Expression | null => {
  for (const property of object.properties) {
    if (property.name?.getText() !== 'name') continue;
    if (ts.isPropertyAssignment(property)) return property.initializer;
    if (ts.isShorthandPropertyAssignment(property)) return property.name;
  }
  return null;
};

/** The component or hook around a node. */
function functionAround(node: ts.Node): string {
  for (let around: ts.Node = node; !ts.isSourceFile(around); around = around.parent)
    if (ts.isFunctionDeclaration(around)) return around.name?.text ?? '';
  return '';
}

/**
 * Every form of the pages, from their sources: the name of each is what its hook is called with, or, where that is handed to its
 * component or hook, what each place hands over.
 */
export function listForms(): ListedForm[] {
  const files = execFileSync(
    'git',
    ['ls-files', '-co', '--exclude-standard', '--', 'apps/web/src/*.tsx', 'apps/web/src/*.ts'],
    {
      cwd: ROOT,
      encoding: 'utf8',
    },
  )
    .split('\n')
    .filter((file) => file !== '' && !file.includes('.test.') && !file.startsWith('apps/web/src/lib/forms/'));
  const sources = files.map(parse);
  const forms: ListedForm[] = [];
  const add = (file: string, heads: string[] | null, what: string): void => {
    if (heads === null) throw new Error(`${file}: no telling how the name of a form begins: ${what}`);
    for (const head of heads) forms.push({ head: `${head}-`.replace(/[^a-zA-Z0-9-]/g, '-').replace(/--$/, '-'), file });
  };
  const handedOver = (component: string, what: string): void => {
    const before = forms.length;
    for (const source of sources)
      eachNode(source, (node) => {
        if (!ts.isJsxOpeningLikeElement(node) || node.tagName.getText() !== component) return;
        for (const attribute of node.attributes.properties) {
          if (!ts.isJsxAttribute(attribute) || attribute.name.getText() !== 'name') continue;
          const value = attribute.initializer;
          const inner = value !== undefined && ts.isJsxExpression(value) ? value.expression : value;
          const heads = inner !== undefined && ts.isExpression(inner) ? headsOf(inner) : null;
          add(source.fileName, heads, attribute.getText());
        }
      });
    if (forms.length === before) add(component, null, what);
  };
  const hooks = [...HOOKS];
  for (const hook of hooks)
    for (const source of sources)
      eachNode(source, (node) => {
        if (!ts.isCallExpression(node) || node.expression.getText() !== hook) return;
        const [options] = node.arguments;
        const name = options !== undefined && ts.isObjectLiteralExpression(options) ? nameOf(options) : null;
        const around = functionAround(node);
        if (name !== null && !ts.isIdentifier(name)) add(source.fileName, headsOf(name), name.getText());
        else if (/^use[A-Z]/.test(around)) hooks.push(around);
        else handedOver(around, node.getText().slice(0, 80));
      });
  return forms;
}

/** Sources that draw a form past the two that know of errors, summary and drafts. */
export function listOtherForms(): string[] {
  const files = execFileSync('git', ['grep', '-lE', '<form[ >]|<Form[ >]', '--', 'apps/web/src'], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return files
    .split('\n')
    .filter(
      (file) => file !== '' && !file.startsWith('apps/web/src/lib/forms/') && file !== 'apps/web/src/ui/field.tsx',
    );
}
