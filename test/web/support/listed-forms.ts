import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const HOOKS = ['useRecordForm', 'useEntryForm'];

interface Source {
  file: string;
  text: string;
}
interface ListedForm {
  /** with what the ids of its fields begin, up to the id of a record */
  head: string;
  file: string;
}

/** The text from a place to the end of what is written there: a comma or a bracket outside all quotes and brackets. */
function readExpression(text: string, from: number): string {
  let depth = 0;
  let quote = '';
  for (let at = from; at < text.length; at += 1) {
    const sign = text[at] ?? '';
    if (quote !== '') quote = sign === quote ? '' : quote;
    else if ('`\'"'.includes(sign)) quote = sign;
    else if ('({['.includes(sign)) depth += 1;
    else if (')}]'.includes(sign) || sign === ',') {
      if (depth === 0) return text.slice(from, at).trim();
      if (sign !== ',') depth -= 1;
    }
  }
  return '';
}

/** What a name begins with, as far as the source says it: each branch of a choice is a form of its own. */
function headsOf(name: string): string[] {
  const literals = [...name.matchAll(/`([^`]*)`|'([^']*)'/g)].map((found) => found[1] ?? found[2] ?? '');
  return literals.flatMap((literal) => {
    const [, choice, rest = ''] = /^\$\{([^}]*)\}([^$]*)/.exec(literal) ?? [];
    if (choice === undefined) return [literal.split('${')[0] ?? ''];
    return [...choice.matchAll(/'([^']*)'/g)].map((found) => `${found[1] ?? ''}${rest}`);
  });
}

/** The component or hook in which a place lies. */
const functionAround = (text: string, at: number): string =>
  [...text.slice(0, at).matchAll(/^(?:export )?(?:default )?function (\w+)/gm)].at(-1)?.[1] ?? '';

/** What is handed over to a hook as the name: an expression, or null where it comes from further outside. */
function findName(text: string, open: number): string | null {
  let at = open;
  for (;;) {
    const entry = readExpression(text, at);
    if (entry.startsWith('name:')) return entry.slice('name:'.length).trim();
    at = text.indexOf(entry, at) + entry.length;
    // The bracket that ends what is handed over, or, after a last comma, nothing but it.
    if (text[at] !== ',') return null;
    at += 1;
  }
}

/**
 * Every form of the pages, from their sources: the name of each is what its hook is called with, or, where that is handed to its
 * component or hook, what each place hands over.
 */
export function listForms(): ListedForm[] {
  const patterns = ['apps/web/src/*.tsx', 'apps/web/src/*.ts'];
  const sources: Source[] = execFileSync('git', ['ls-files', '-co', '--exclude-standard', '--', ...patterns], {
    cwd: ROOT,
    encoding: 'utf8',
  })
    .split('\n')
    .filter((file) => file !== '' && !file.includes('.test.') && !file.startsWith('apps/web/src/lib/forms/'))
    .map((file) => ({ file, text: fs.readFileSync(path.join(ROOT, file), 'utf8') }));
  const forms: ListedForm[] = [];
  const add = (file: string, heads: readonly string[], what: string): void => {
    if (heads.length === 0) throw new Error(`${file}: no telling how the name of a form begins: ${what}`);
    for (const head of heads) forms.push({ head: `${head}-`.replace(/[^a-zA-Z0-9-]/g, '-').replace(/--$/, '-'), file });
  };
  const addHandedOver = (component: string, file: string): void => {
    const found = sources.flatMap(({ text }) =>
      [...text.matchAll(new RegExp(`<${component}\\b[^>]*?\\bname=(?:"([^"]*)"|\\{([^}]*)\\})`, 'g'))].map(
        (place) => place[1] ?? headsOf(place[2] ?? '')[0] ?? '',
      ),
    );
    add(file, found, component);
  };
  const hooks = [...HOOKS];
  for (const hook of hooks)
    for (const { file, text } of sources)
      for (const call of text.matchAll(new RegExp(`\\b${hook}(?:<[^(]*>)?\\(\\{`, 'g'))) {
        const name = findName(text, call.index + call[0].length);
        const around = functionAround(text, call.index);
        if (name !== null) add(file, headsOf(name), name);
        else if (/^use[A-Z]/.test(around)) hooks.push(around);
        else addHandedOver(around, file);
      }
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
