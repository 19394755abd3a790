import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { text } from 'node:stream/consumers';
import { ESLint } from 'eslint';

/**
 * Lints snippets as if each stood in a file of the project: reads `[{ file, code }]` as JSON from standard input, writes
 * the names of the rules that each breaks. One process for all: loading the types is what takes the time.
 */
const root = fileURLToPath(new URL('../../../', import.meta.url));
const eslint = new ESLint({ cwd: root, overrideConfigFile: path.join(root, 'packages/config/eslint.config.mjs') });
/** @type {{ file: string, code: string }[]} */
const snippets = JSON.parse(await text(process.stdin));
const broken = [];
for (const { file, code } of snippets) {
  const [result] = await eslint.lintText(code, { filePath: path.join(root, file), warnIgnored: true });
  broken.push((result?.messages ?? []).map(({ ruleId, message }) => ruleId ?? message));
}
console.log(JSON.stringify(broken));
