/**
 * Compiles packages and API whenever a source of theirs changes, and tells the process that started this which of them was written
 * anew. One process for all of them: each watches what those below it write.
 */
import { execFileSync } from 'node:child_process';
import path from 'node:path';
import ts from 'typescript';
import { ROOT } from '../support/paths.mjs';

/** From the bottom up. */
const COMPILED = ['packages/quantity', 'packages/calc', 'packages/contracts', 'packages/drawing', 'apps/api'];

/** What is made of a package's build, by a program of its own. */
const MADE_AFTER = new Map([['packages/contracts', 'scripts/write-browser.mjs']]);

const format = {
  getCurrentDirectory: () => ROOT,
  getCanonicalFileName: (/** @type {string} */ file) => file,
  getNewLine: () => '\n',
};

/** @param {string} maker */
function makeAfter(maker) {
  try {
    execFileSync(process.execPath, [maker], { stdio: ['ignore', 'ignore', 'inherit'] });
  } catch {
    console.error(`${maker} failed: pages go on with what it made before`);
  }
}

/** @param {string} workspace */
function watch(workspace) {
  let isWritten = false;
  /** Writes what differs alone: nothing is restarted or compiled anew for a comment that leaves no trace, nor by the first look. */
  const system = {
    ...ts.sys,
    /** @type {typeof ts.sys.writeFile} */
    writeFile: (file, text, hasMark) => {
      if (ts.sys.readFile(file) === text) return;
      isWritten = true;
      ts.sys.writeFile(file, text, hasMark);
    },
  };
  const host = ts.createWatchCompilerHost(
    path.join(ROOT, workspace, 'tsconfig.json'),
    {},
    system,
    ts.createEmitAndSemanticDiagnosticsBuilderProgram,
    (diagnostic) => console.error(ts.formatDiagnostic(diagnostic, format).trimEnd()),
    () => undefined,
  );
  const emit = host.afterProgramCreate;
  host.afterProgramCreate = (program) => {
    emit?.(program);
    const maker = MADE_AFTER.get(workspace);
    if (isWritten && maker !== undefined) makeAfter(path.join(ROOT, workspace, maker));
    if (isWritten) process.send?.({ written: workspace });
    isWritten = false;
  };
  ts.createWatchProgram(host);
}

COMPILED.forEach(watch);
process.send?.({ isWatching: true });
