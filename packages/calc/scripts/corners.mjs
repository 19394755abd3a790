// Inputs at the ends of what a calculation takes, made from its own description and one input that it computes.

/** @typedef {import('../dist/registry/input-fields.js').FieldDescription} Field */
/** @typedef {Readonly<Record<string, Field>>} Fields */
/** @typedef {Record<string, unknown>} Inputs */
/** @typedef {'kept' | 'least' | 'largest' | 'any'} Way in which a number is changed */
/** @typedef {{ way: Way | 'mixed', length: number, random: () => number }} Change length: of every list */

/**
 * The largest figure of each kind that is taken, SI; of any other kind and of plain numbers a million million.
 * @type {Readonly<Record<string, number>>}
 */
const LARGEST = {
  pressure: 2e9,
  stress: 1e13,
  modulus: 1e13,
  length: 1e4,
  force: 1e9,
  flow: 100 / 60,
  volume: 1000,
  time: 3e9,
  temperature: 673,
  'temperature-difference': 500,
};
const LARGEST_PLAIN = 1e12;
/**
 * The unit in which the largest figure of a kind is written: SI has no other names.
 * @type {Readonly<Record<string, string>>}
 */
const SI_UNITS = {
  pressure: 'Pa',
  stress: 'Pa',
  modulus: 'Pa',
  length: 'm',
  force: 'N',
  flow: 'm3/s',
  volume: 'm3',
  time: 's',
  temperature: 'K',
  'temperature-difference': 'K',
};

/**
 * Numbers in [0, 1) that are the same in every run.
 * @param {number} seed
 */
function seeded(seed) {
  let state = seed;
  return () => (state = (state * 48271) % 2147483647) / 2147483647;
}

/** @type {readonly Way[]} */
const MIXED_WAYS = ['kept', 'least', 'largest', 'any', 'any'];

/**
 * @param {unknown} value
 * @returns {value is Inputs}
 */
const isRecord = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);

/**
 * How a number is changed: kept, the least, the largest, or of any size.
 * @param {unknown} value
 * @param {Field} field
 * @param {Change} change
 */
function toNumber(value, field, { way, random }) {
  if (typeof value !== 'number' || way === 'kept') return value;
  const chosenWay = way === 'mixed' ? (MIXED_WAYS[Math.floor(random() * MIXED_WAYS.length)] ?? 'kept') : way;
  const largest = field.type === 'fraction' ? 1 : (field.most ?? LARGEST[field.kind ?? ''] ?? LARGEST_PLAIN);
  const least = field.least ?? (field.zero === false ? 1e-12 : 0);
  const any = field.type === 'fraction' ? random() : 10 ** (random() * 14 - 6);
  const chosen = { kept: value, least, largest, any }[chosenWay];
  return field.type === 'count' ? Math.max(least, Math.min(largest, Math.round(chosen))) : chosen;
}

/**
 * @param {readonly unknown[]} list
 * @param {Field} field
 * @param {Change} change
 */
function toLength(list, field, { length }) {
  const wanted = Math.min(length, field.most ?? length);
  if (list.length === 0 || wanted <= list.length) return list;
  return Array.from({ length: wanted }, (_, index) => list[index % list.length]);
}

/**
 * @param {unknown} value
 * @param {Field | undefined} field
 * @param {Change} change
 * @returns {unknown}
 */
function toValue(value, field, change) {
  if (field === undefined) return value;
  if (field.type === 'object' && isRecord(value)) return toInputs(value, field.fields ?? {}, change);
  if (field.type === 'list' && Array.isArray(value)) {
    return toLength(value, field, change).map((item) =>
      isRecord(item) ? toInputs(item, field.fields ?? {}, change) : item,
    );
  }
  if (isRecord(value) && 'value' in value) {
    const unit = (change.way === 'kept' ? undefined : SI_UNITS[field.kind ?? '']) ?? value.unit;
    return { ...value, unit, value: toValue(value.value, field, change) };
  }
  if (Array.isArray(value) && field.type.endsWith('list')) {
    // No two alike: like figures are an easy case of every method.
    return toLength(value, field, change).map((item, index) => {
      const number = toNumber(item, field, change);
      return typeof number === 'number' && change.way !== 'largest' ? number * (1 + index * 1e-7) : number;
    });
  }
  return Array.isArray(value) ? value.map((item) => toNumber(item, field, change)) : toNumber(value, field, change);
}

/**
 * @param {Inputs} inputs
 * @param {Fields} fields
 * @param {Change} change
 * @returns {Inputs}
 */
function toInputs(inputs, fields, change) {
  return Object.fromEntries(
    Object.entries(inputs).map(([name, value]) => [name, toValue(value, fields[name], change)]),
  );
}

/**
 * Inputs of a calculation at its corners: all at once, each by itself, and mixed.
 * @param {{ inputs: Fields }} description
 * @param {readonly Record<string, unknown>[]} samples inputs that it computes
 * @param {number} mixed how many mixed ones
 * @returns {Generator<Inputs>}
 */
export function* cornersOf({ inputs: fields }, samples, mixed) {
  const random = seeded(20261128);
  const [sample] = samples;
  if (sample === undefined) throw new Error('corners are made from an input that the calculation computes');
  const hasList = JSON.stringify(fields).includes('list"');
  for (const way of /** @type {const} */ (['kept', 'least', 'largest'])) {
    for (const length of hasList ? [1, 60, 2000, Infinity] : [1])
      yield toInputs(sample, fields, { way, length, random });
  }
  for (const name of Object.keys(sample)) {
    for (const way of /** @type {const} */ (['least', 'largest'])) {
      yield { ...sample, [name]: toValue(sample[name], fields[name], { way, length: 1, random }) };
    }
  }
  for (let count = 0; count < mixed; count += 1) {
    const length = hasList ? ([1, 1, 200, 2000][count % 4] ?? 1) : 1;
    yield toInputs(samples[count % samples.length] ?? sample, fields, { way: 'mixed', length, random });
  }
}
