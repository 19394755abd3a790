import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { text } from 'node:stream/consumers';
import { ESLint } from 'eslint';
import ts from 'typescript';

/**
 * Lints snippets as if each stood in a file of the project: reads `[{ file, code }]` as JSON from standard input, writes
 * the names of the rules that each breaks. A snippet is a file of its own beside the one that is named, by the settings of
 * that one's compiler, and imports nothing: a program of the snippets alone knows their types.
 */
const root = fileURLToPath(new URL('../../../', import.meta.url));
/** @type {{ file: string, code: string }[]} */
const snippets = JSON.parse(await text(process.stdin));
const planted = snippets.map(({ file, code }, index) => {
  const { dir, base } = path.parse(path.join(root, file));
  return { file: path.join(dir, `planted-${index}-${base}`), code };
});
const codes = new Map(planted.map(({ file, code }) => [file, code]));

/**
 * @param {string} config
 * @param {string[]} files
 */
function toProgram(config, files) {
  const parsed = ts.getParsedCommandLineOfConfigFile(
    config,
    {},
    {
      ...ts.sys,
      onUnRecoverableConfigFileDiagnostic: ({ messageText }) => {
        throw new Error(ts.flattenDiagnosticMessageText(messageText, '\n'));
      },
    },
  );
  if (parsed === undefined) throw new Error(`${config} cannot be read`);
  const options = { ...parsed.options, noEmit: true, incremental: false, composite: false };
  const host = ts.createCompilerHost(options, true);
  const { fileExists, readFile, getSourceFile } = host;
  host.fileExists = (file) => codes.has(file) || fileExists(file);
  host.readFile = (file) => codes.get(file) ?? readFile(file);
  host.getSourceFile = (file, settings, ...others) => {
    const code = codes.get(file);
    if (code === undefined) return getSourceFile(file, settings, ...others);
    return ts.createSourceFile(file, code, settings, true);
  };
  return ts.createProgram({ rootNames: files, options, host });
}

/** @type {Map<string, string[]>} */
const projects = new Map();
for (const file of [...codes.keys()].filter((one) => one.endsWith('.ts'))) {
  const config = ts.findConfigFile(path.dirname(file), ts.sys.fileExists);
  if (config === undefined) throw new Error(`no project holds ${file}`);
  projects.set(config, [...(projects.get(config) ?? []), file]);
}
const programs = [...projects].map(([config, files]) => toProgram(config, files));
const eslint = new ESLint({
  cwd: root,
  overrideConfigFile: path.join(root, 'packages/config/eslint.config.mjs'),
  overrideConfig: [{ files: ['**/*.ts'], languageOptions: { parserOptions: { project: null, programs } } }],
});
const broken = [];
for (const { file, code } of planted) {
  const [result] = await eslint.lintText(code, { filePath: file, warnIgnored: true });
  broken.push((result?.messages ?? []).map(({ ruleId, message }) => ruleId ?? message));
}
console.log(JSON.stringify(broken));
