/**
 * Values made from the schemas of the API's own description: mostly right, now and then wrong in a way that breaks careless programs.
 */

/** @typedef {ReturnType<typeof import('../drill/deliveries.mjs').seeded>} Random */
/** @typedef {Record<string, any>} Schema */
/**
 * @typedef {object} Making
 * @property {Random} random
 * @property {Schema} document the whole description: references lead into it
 * @property {readonly string[]} ids of records that are there
 * @property {number} wrongness share of values that are wrong on purpose
 */

const DEEP = 70;
const NASTY_TEXTS = [
  '',
  ' ',
  '\u0000',
  '\ud800',
  'a\udc00b',
  "'; DROP TABLE users; --",
  '${7*7}',
  '<script>alert(1)</script>',
  '../../etc/passwd',
  'a'.repeat(5_000),
  '٣٤',
  '1e309',
  'NaN',
  '\u202e',
  '﷽',
];
const NASTY_NUMBERS = [0, -0, -1, 1, 0.1, 1e-320, 1e308, -1e308, 2 ** 31, 2 ** 53 + 2, 1e12, -273.15];
const NASTY_DATES = [
  '0000-01-01',
  '1899-12-31',
  '2026-02-30',
  '2200-12-31',
  '9999-12-31',
  '2026-11-28T25:61:00Z',
  'now',
];

/**
 * @template T
 * @param {Random} random
 * @param {readonly T[]} list not empty
 * @returns {T}
 */
export const pick = (random, list) => /** @type {T} */ (list[random.whole(list.length)]);

/** @param {Random} random */
const hex = (random, /** @type {number} */ digits) =>
  Array.from({ length: digits }, () => random.whole(16).toString(16)).join('');

/** @param {Random} random */
export const makeId = (random) =>
  `0199${hex(random, 4)}-${hex(random, 4)}-7${hex(random, 3)}-a${hex(random, 3)}-${hex(random, 12)}`;

/**
 * @param {Schema | boolean | undefined} schema
 * @param {Making} making
 * @returns {Schema}
 */
function resolve(schema, { document }) {
  if (typeof schema !== 'object') return {};
  if (typeof schema['$ref'] !== 'string') return schema;
  return schema['$ref']
    .slice(2)
    .split('/')
    .reduce((/** @type {any} */ inner, part) => inner?.[part], document);
}

/** @param {Random} random @returns {unknown} */
function makeWrong(random) {
  const nested = (/** @type {number} */ depth) => {
    /** @type {unknown} */
    let value = 1;
    for (let level = 0; level < depth; level += 1) value = random.chance(0.5) ? [value] : { a: value };
    return value;
  };
  const kinds = [
    () => null,
    () => pick(random, NASTY_TEXTS),
    () => pick(random, NASTY_NUMBERS),
    () => pick(random, NASTY_DATES),
    () => random.chance(0.5),
    () => [],
    () => ({}),
    () => ({ __proto__: null, constructor: { prototype: {} }, value: 'x', unit: '\u0000' }),
    () => nested(random.chance(0.2) ? DEEP : 5),
  ];
  return pick(random, kinds)();
}

/** @param {Schema} schema @param {Making} making */
function makeText(schema, { random, ids }) {
  switch (schema.format) {
    case 'uuid':
      return ids.length > 0 && random.chance(0.6) ? pick(random, ids) : makeId(random);
    case 'date-time':
      return new Date(Date.UTC(2024 + random.whole(3), random.whole(12), 1 + random.whole(28))).toISOString();
    case 'date':
      return `202${random.whole(7)}-0${1 + random.whole(9)}-1${random.whole(10)}`;
    case 'email':
      return `fuzz${random.whole(1000)}@test.example`;
    case 'uri':
      return 'https://127.0.0.1:1/';
    default:
  }
  if (schema.pattern?.includes('{43}')) return hex(random, 43);
  const least = schema.minLength ?? 0;
  const length = Math.min(schema.maxLength ?? 30, least + random.whole(12));
  return 'fuzzy text of no meaning at all '.repeat(4).slice(0, Math.max(length, least));
}

/** @param {Schema} schema @param {Random} random */
function makeNumber(schema, random) {
  const low = schema.minimum ?? schema.exclusiveMinimum ?? (random.chance(0.1) ? -1e6 : 0);
  const high = schema.maximum ?? schema.exclusiveMaximum ?? 1_000;
  const share = pick(random, [0, 1, random.next(), random.next()]);
  const value = low + (Math.min(high, low + 1e6) - low) * share;
  return schema.type === 'integer' ? Math.round(value) : value;
}

/**
 * A value of a schema.
 * @param {Schema | boolean | undefined} given
 * @param {Making} making
 * @param {number} [depth]
 * @returns {unknown}
 */
export function makeValue(given, making, depth = 0) {
  const { random, wrongness } = making;
  if (random.chance(wrongness)) return makeWrong(random);
  const schema = resolve(given, making);
  if ('const' in schema) return schema.const;
  if (Array.isArray(schema.enum)) return pick(random, schema.enum);
  const choices = schema.anyOf ?? schema.oneOf;
  if (Array.isArray(choices) && choices.length > 0) return makeValue(pick(random, choices), making, depth);
  const type = Array.isArray(schema.type) ? pick(random, schema.type) : schema.type;
  switch (type) {
    case 'string':
      return makeText(schema, making);
    case 'number':
    case 'integer':
      return makeNumber(schema, random);
    case 'boolean':
      return random.chance(0.5);
    case 'null':
      return null;
    case 'array': {
      const least = schema.minItems ?? 0;
      const count = depth > 6 ? least : Math.min(schema.maxItems ?? 4, least + random.whole(3));
      return Array.from({ length: count }, () => makeValue(schema.items, making, depth + 1));
    }
    default:
      return makeObject(schema, making, depth);
  }
}

/** @param {Schema} schema @param {Making} making @param {number} depth */
function makeObject(schema, making, depth) {
  const { random, wrongness } = making;
  const required = new Set(schema.required ?? []);
  /** @type {Record<string, unknown>} */
  const out = {};
  for (const [name, inner] of Object.entries(schema.properties ?? {})) {
    const isGiven = required.has(name) ? !random.chance(wrongness / 2) : random.chance(depth > 6 ? 0 : 0.5);
    if (isGiven) out[name] = makeValue(inner, making, depth + 1);
  }
  if (random.chance(wrongness)) out[pick(random, ['extra', 'id', '\ud800', ''])] = makeWrong(random);
  return out;
}
