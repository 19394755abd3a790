// Writes CALCULATIONS.md from the registry and the check rows: node packages/calc/scripts/write-calculations.mjs
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import prettier from 'prettier';

const here = path.dirname(fileURLToPath(import.meta.url));
const target = path.join(here, '../CALCULATIONS.md');

/** @typedef {import('../dist/index.js').CalculationDescription} CalculationDescription */
/** @typedef {import('../dist/registry/input-fields.js').FieldDescription} InputDescription */
/** @typedef {import('../dist/registry/output-fields.js').OutputDescription} OutputDescription */
/** @typedef {Partial<Omit<InputDescription, 'type' | 'fields'>> & Partial<Omit<OutputDescription, 'type' | 'fields'>>} Said what only inputs say, or only outputs */
/** @typedef {Said & { type: string, fields?: Fields }} Field */
/** @typedef {{ readonly [name: string]: Field }} Fields */

/** @type {Readonly<Record<string, string>>} */
const PLAIN_UNITS = { fraction: '0 to 1', count: 'whole', number: '1' };

/** @param {Field} field */
const unitOf = (field) => field.unit ?? field.units?.[0] ?? PLAIN_UNITS[field.type] ?? field.type;

/**
 * @param {Fields} fields
 * @param {number} [depth]
 * @returns {string[]}
 */
function listFields(fields, depth = 0) {
  return Object.entries(fields).flatMap(([name, field]) => {
    const facts = [
      unitOf(field),
      field.required === false
        ? field.default === undefined
          ? 'optional'
          : `default ${JSON.stringify(field.default)}`
        : null,
      field.words ? field.words.map((word) => `\`${word}\``).join(' / ') : null,
    ].filter(Boolean);
    const line = `${'  '.repeat(depth)}- \`${name}\`${field.symbol ? ` (${field.symbol})` : ''}: ${facts.join(', ')}${field.meaning ? ` — ${field.meaning}` : ''}`;
    return [line, ...listFields(field.fields ?? {}, depth + 1)];
  });
}

/**
 * The document's text, formatted as the repository is.
 * @param {readonly CalculationDescription[]} registry
 * @param {Pick<import('./check-row.mjs').CheckFile, 'rows'>} checks
 */
export async function renderCalculations(registry, { rows }) {
  const lines = [
    '# Calculations',
    '',
    'Made by `scripts/write-calculations.mjs` from the registry, the docstrings and the check values: change those, then run it.',
    'Formula lines are evaluated against the code by the tests. Pressures are gauge unless named absolute. Figures support, never',
    'replace, the judgement of a competent person and the local code.',
  ];
  for (const entry of registry) {
    const checks = rows.filter((row) => row.calculation === entry.id);
    const kinds = [...new Set(checks.map(({ kind }) => kind))].sort();
    lines.push(
      '',
      `## ${entry.id}`,
      '',
      `**${entry.title}.** ${entry.summary}`,
      '',
      'Inputs:',
      '',
      ...listFields(entry.inputs),
    );
    lines.push('', 'Outputs:', '', ...listFields(entry.outputs), '');
    if (entry.formula.length > 0) lines.push('```', ...entry.formula, '```', '');
    lines.push(...entry.method.flatMap((text) => [`Method: ${text}`, '']));
    lines.push(
      `Assumes: ${entry.assumes}`,
      '',
      `Range: ${entry.range}`,
      '',
      `Cautions: ${entry.cautions.map((code) => `\`${code}\``).join(', ')}`,
      '',
    );
    lines.push(...entry.sources.map((text) => `- Source: ${text}`));
    lines.push(
      '',
      `Check rows: ${checks.length} (${kinds.join(', ')})`,
      '',
      ...[...new Set(checks.map(({ source }) => source))].map((text) => `- ${text}`),
    );
  }
  return prettier.format(`${lines.join('\n')}\n`, { ...(await prettier.resolveConfig(target)), parser: 'markdown' });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { describeRegistry } = await import('../dist/index.js');
  const checks = JSON.parse(readFileSync(path.join(here, '../test/data/checks.json'), 'utf8'));
  writeFileSync(target, await renderCalculations(describeRegistry(), checks));
}
