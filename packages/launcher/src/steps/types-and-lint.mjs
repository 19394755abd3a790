import fs from 'node:fs';
import path from 'node:path';
import { ESLint } from 'eslint';
import ts from 'typescript';
import { ROOT } from '../support/paths.mjs';

/**
 * Types and lint of all code, as a program of its own: `node types-and-lint.mjs FOLDER …`. It comes after the build of packages and API.
 * What the compiler has worked out of a project for its types serves the linter as well, and is let go before the next project.
 */

/** A tsconfig.json, or the file itself; the first that holds a file is the one by whose types it is read. */
const PROJECTS = [
  'packages/calc',
  'packages/contracts',
  'packages/drawing',
  'packages/quantity',
  'packages/launcher',
  'packages/calc/tsconfig.tools.json',
  'apps/api',
  'apps/web',
  'prisma',
  'test',
].map((name) => path.join(ROOT, name.endsWith('.json') ? name : path.join(name, 'tsconfig.json')));
const LINT_CONFIG = path.join(ROOT, 'packages', 'config', 'eslint.config.mjs');

/** @type {ts.FormatDiagnosticsHost} */
const PLACES = { getCanonicalFileName: (file) => file, getCurrentDirectory: () => ROOT, getNewLine: () => '\n' };

/** Folders that hold no code of ours. */
const OTHERS = new Set(['node_modules', 'dist', '.next', '.turbo', '.data']);

const folders = process.argv.slice(2);
/** Files that no project has had yet. */
const waiting = new Set(await listTyped());
/** @type {string[]} */
const problems = [];
for (const project of PROJECTS) problems.push(...(await checkProject(project)));
problems.push(...[...waiting].map((file) => `${path.relative(ROOT, file)}: no project holds this file`));
const plain = new ESLint({ ...toOptions(), overrideConfig: { ignores: ['**/*.{ts,tsx}'] } });
problems.push(...(await lint(plain, folders)));
if (problems.length > 0) {
  console.log(problems.join('\n'));
  process.exitCode = 1;
}

function toOptions() {
  return { cwd: ROOT, overrideConfigFile: LINT_CONFIG, errorOnUnmatchedPattern: false, warnIgnored: false };
}

/**
 * Every file of the folders that is linted by types.
 * @returns {Promise<string[]>}
 */
async function listTyped() {
  const eslint = new ESLint(toOptions());
  /** @type {string[]} */
  const files = [];
  /** @param {string} folder */
  const walk = async (folder) => {
    for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
      const file = path.join(folder, entry.name);
      if (entry.isDirectory() && !OTHERS.has(entry.name)) await walk(file);
      if (entry.isFile() && /\.tsx?$/.test(entry.name) && !(await eslint.isPathIgnored(file))) files.push(file);
    }
  };
  for (const folder of folders) await walk(path.join(ROOT, folder));
  return files;
}

/**
 * @param {string} project path of its configuration
 * @returns {Promise<string[]>} what is wrong with its types, and with those of its files that no project before it had
 */
async function checkProject(project) {
  const parsed = ts.getParsedCommandLineOfConfigFile(
    project,
    {},
    {
      ...ts.sys,
      onUnRecoverableConfigFileDiagnostic: (diagnostic) => {
        throw new Error(ts.formatDiagnostic(diagnostic, PLACES));
      },
    },
  );
  if (parsed === undefined) throw new Error(`${project} cannot be read`);
  const options = { ...parsed.options, noEmit: true, incremental: false };
  const program = ts.createProgram({ rootNames: parsed.fileNames, options });
  const wrong = listWrong(program, parsed);
  const files = parsed.fileNames.map((file) => path.normalize(file)).filter((file) => waiting.delete(file));
  const parserOptions = { project: null, programs: [program] };
  const typed = new ESLint({
    ...toOptions(),
    overrideConfig: [{ files: ['**/*.{ts,tsx}'], languageOptions: { parserOptions } }],
  });
  const findings = await lint(typed, files);
  return [...wrong.map((diagnostic) => ts.formatDiagnostic(diagnostic, PLACES).trimEnd()), ...findings];
}

/**
 * What is wrong with the types of a project's own files: what they bring along from another is looked at in that one. Of a project that
 * is built, the build has said it before, by the same configuration.
 * @param {ts.Program} program
 * @param {ts.ParsedCommandLine} parsed
 * @returns {readonly ts.Diagnostic[]}
 */
function listWrong(program, { fileNames, options, errors }) {
  if (options.noEmit !== true) return errors;
  const sources = fileNames.flatMap((file) => program.getSourceFile(file) ?? []);
  return [
    ...[...errors, ...program.getOptionsDiagnostics(), ...program.getGlobalDiagnostics()],
    ...sources.flatMap((file) => [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)]),
  ];
}

/**
 * @param {ESLint} eslint
 * @param {string[]} paths
 * @returns {Promise<string[]>} a line for each finding, warnings too
 */
async function lint(eslint, paths) {
  if (paths.length === 0) return [];
  const results = await eslint.lintFiles(paths);
  return results.flatMap(({ filePath, messages }) =>
    messages.map(
      ({ line, column, message, ruleId }) =>
        `${path.relative(ROOT, filePath)}(${line},${column}): ${message} (${ruleId ?? 'eslint'})`,
    ),
  );
}
