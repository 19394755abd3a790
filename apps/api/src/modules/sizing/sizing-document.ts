import { createHash } from 'node:crypto';
import { CALCULATION_VERSION, type CircuitFacts, type PressureLadderResult } from '@repo/calc';
import { toPressureLadder } from '@repo/contracts';
import canonicalize from 'canonicalize';
import type { Proofs } from './proofs.thread.js';
import { sizingDocument, type StoredDocument } from './stored-sizing.js';

/** The last digits of a floating-point function may differ from one runtime to another. */
export const RUNTIME_VERSION = `node ${process.versions.node}, v8 ${process.versions.v8}`;

/** Canonical text (RFC 8785) of a document. */
export function toCanonicalText(document: StoredDocument): string {
  const text = canonicalize(sizingDocument.write(document));
  if (text === undefined) throw new Error('a sizing document has no canonical form');
  return text;
}

/** What stands before and after the input in the canonical text of a document; within a string quotation marks are escaped. */
export const sizingInputEnds = { before: ',"input":', after: ',"result":' };

/** The input alone, as it stands in the canonical text of a record that is made of it. */
export function toCanonicalInput(input: CircuitFacts): string {
  const text = canonicalize(input);
  if (text === undefined) throw new Error('the facts of a circuit have no canonical form');
  return text;
}

export const hashOf = (text: string): Buffer => createHash('sha256').update(text, 'utf8').digest();

/** What is computed to have a document again. */
export function toProofs(document: StoredDocument): Proofs {
  if (document.format === 'kedge-sizing/1') return { ladders: [document.input] };
  return document.format === 'kedge-sizing/4' ? { facts: [document.input] } : { former: [document.input] };
}

/** The document with what was computed again from its own input, under the versions of today. */
export const toReplayed = (document: StoredDocument, result: PressureLadderResult): StoredDocument => ({
  ...document,
  calculationVersion: CALCULATION_VERSION,
  runtimeVersion: RUNTIME_VERSION,
  result: toPressureLadder(result),
});

export interface Difference {
  pointer: string;
  recorded: string;
  replayed: string;
}
const show = (value: unknown): string => (value === undefined ? 'nothing' : JSON.stringify(value));

/** Every place where two documents differ, as JSON pointers. */
export function differencesOf(recorded: unknown, replayed: unknown, pointer = ''): Difference[] {
  const isNode = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;
  if (!isNode(recorded) || !isNode(replayed)) {
    return Object.is(recorded, replayed) ? [] : [{ pointer, recorded: show(recorded), replayed: show(replayed) }];
  }
  const names = [...new Set([...Object.keys(recorded), ...Object.keys(replayed)])].sort();
  return names.flatMap((name) =>
    differencesOf(recorded[name], replayed[name], `${pointer}/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`),
  );
}
