import { isUtf8 } from 'node:buffer';

/** Why a text is not taken as JSON. */
export type JsonFault = 'encoding' | 'syntax' | 'depth' | 'duplicate-key' | 'character';

export class JsonFaultError extends Error {
  constructor(
    readonly fault: JsonFault,
    readonly detail: string,
  ) {
    super(detail);
    this.name = 'JsonFaultError';
  }
}

const DEEPEST = 16;
const QUOTE = 0x22;
const LONE_SURROGATE = /[\ud800-\udfff]/u;

interface Level {
  /** null in an array */
  keys: Set<string> | null;
  awaitsKey: boolean;
}

const positionOf = (wanted: string, text: string, from: number): number => {
  const found = text.indexOf(wanted, from);
  return found === -1 ? Infinity : found;
};

/** Where the string that begins at `start` ends; the length of the text when it does not. */
function endOfString(text: string, start: number): number {
  let at = start + 1;
  for (;;) {
    const quote = text.indexOf('"', at);
    if (quote === -1) return text.length;
    let slashes = 0;
    while (text[quote - 1 - slashes] === '\\') slashes += 1;
    if (slashes % 2 === 0) return quote;
    at = quote + 1;
  }
}

/** The string of a token with escapes; null when it is none, which the parser then says itself. */
function unescape(token: string): string | null {
  try {
    const value: unknown = JSON.parse(token);
    return typeof value === 'string' ? value : null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/**
 * Looks for what `JSON.parse` lets pass or chokes on: nesting without end, a key that comes twice (readers disagree about
 * which one counts), and characters that PostgreSQL cannot keep. Reads the text once; broken JSON is left to the parser.
 */
function assertPlain(text: string): void {
  const levels: Level[] = [];
  let nextSlash = positionOf('\\', text, 0);
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) {
      const end = endOfString(text, at);
      const level = levels.at(-1);
      if (nextSlash < at) nextSlash = positionOf('\\', text, at);
      let value = nextSlash < end ? unescape(text.slice(at, end + 1)) : null;
      if (value !== null && (value.includes('\0') || LONE_SURROGATE.test(value))) {
        throw new JsonFaultError('character', 'A text holds half a surrogate pair or the character U+0000.');
      }
      if (level?.keys != null && level.awaitsKey) {
        value ??= text.slice(at + 1, end);
        if (level.keys.has(value)) {
          throw new JsonFaultError('duplicate-key', `The key ${JSON.stringify(value.slice(0, 60))} comes twice.`);
        }
        level.keys.add(value);
        level.awaitsKey = false;
      }
      at = end;
    } else if (code === 0x7b || code === 0x5b) {
      levels.push({ keys: code === 0x7b ? new Set() : null, awaitsKey: true });
      if (levels.length > DEEPEST) throw new JsonFaultError('depth', `It is nested more than ${DEEPEST} deep.`);
    } else if (code === 0x7d || code === 0x5d) {
      levels.pop();
    } else if (code === 0x2c) {
      const level = levels.at(-1);
      if (level !== undefined) level.awaitsKey = true;
    }
  }
}

/** Keys of all objects in a value. */
function countKeys(value: unknown): number {
  if (typeof value !== 'object' || value === null) return 0;
  const inner: unknown[] = Array.isArray(value) ? value : Object.values(value);
  let keys = Array.isArray(value) ? 0 : inner.length;
  for (const part of inner) if (typeof part === 'object') keys += countKeys(part);
  return keys;
}

/**
 * The value of a text without escapes, which is by far the most: as many keys in the value as there were colons means that none came
 * twice. null when that has to be looked at closer.
 */
function parsePlain(text: string): { value: unknown } | null {
  let depth = 0;
  let colons = 0;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) {
      at = text.indexOf('"', at + 1);
      if (at === -1) return null;
    } else if (code === 0x3a) colons += 1;
    else if (code === 0x7b || code === 0x5b) {
      depth += 1;
      if (depth > DEEPEST) return null;
    } else if (code === 0x7d || code === 0x5d) depth -= 1;
  }
  const value = parse(text);
  return countKeys(value) === colons ? { value } : null;
}

function parse(text: string): unknown {
  try {
    const value: unknown = JSON.parse(text);
    return value;
  } catch (error) {
    if (error instanceof SyntaxError) throw new JsonFaultError('syntax', 'It is not JSON.');
    throw error;
  }
}

/**
 * The value of a JSON text in UTF-8. Stricter than the parser of the language: no key twice, at most 16 deep, only characters
 * that can be kept.
 * @throws JsonFaultError
 */
export function parseStrictJson(bytes: Uint8Array): unknown {
  if (!isUtf8(bytes)) throw new JsonFaultError('encoding', 'It is not UTF-8.');
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    .toString('utf8')
    .replace(/^\ufeff/, '');
  const plain = text.includes('\\') ? null : parsePlain(text);
  if (plain !== null) return plain.value;
  assertPlain(text);
  return parse(text);
}
