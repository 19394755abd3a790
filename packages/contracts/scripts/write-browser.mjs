/**
 * Writes what a page loads of the contracts: the tables of plain data, and of each route what a call needs. The schemas stay on the
 * server, which checks what comes and what goes; with them every page would load zod and every shape of the product.
 */
import fs from 'node:fs';
import path from 'node:path';
import { routes } from '../dist/index.js';

/** Files that name no schema. A page that imports anything else of the contracts does not build. */
const PLAIN = [
  './api-keys/api-key-roles.js',
  './circuits/to-pressure-ladder.js',
  './common/problem-codes.js',
  './components/component-kinds.js',
  './exports/export-tables.js',
  './imports/import-fields.js',
  './imports/import-words.js',
  './imports/sample-rows.js',
  './operations/cut-figures.js',
];
/** Of a route: its shapes, and what only its description says. */
const LEFT_OUT = new Set(['params', 'query', 'body', 'response', 'summary', 'errors']);

/** @param {object} route */
const toCall = (route) => Object.fromEntries(Object.entries(route).filter(([name]) => !LEFT_OUT.has(name)));

const calls = Object.fromEntries(
  Object.entries(routes).map(([noun, ofNoun]) => [
    noun,
    Object.fromEntries(Object.entries(ofNoun).map(([name, route]) => [name, toCall(route)])),
  ]),
);
const lines = [
  ...PLAIN.map((file) => `export * from '${file}';`),
  `export const routes = ${JSON.stringify(calls)};`,
  'export const allRoutes = Object.values(routes).flatMap((ofNoun) => Object.values(ofNoun));',
];
fs.writeFileSync(path.join(import.meta.dirname, '../dist/browser.js'), `${lines.join('\n')}\n`);
