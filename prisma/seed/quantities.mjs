/** How much of the SI unit each unit of the scenario is. */
const FACTORS = {
  bar: 1e5,
  MPa: 1e6,
  '[psi]': 6894.757293168,
  s: 1,
  min: 60,
  h: 3600,
  mm: 1e-3,
  mm2: 1e-6,
  m: 1,
  kN: 1e3,
  'L/min': 1e-3 / 60,
  L: 1e-3,
  K: 1,
  'mm2/s': 1e-6,
  'kg/m3': 1,
  N: 1,
  'N/m': 1,
  'N.s/m': 1,
  W: 1,
  V: 1,
  1: 1,
};

/** @typedef {`${keyof typeof FACTORS}`} Unit */
/** @typedef {{ value: number, unit: string, digits: number }} EnteredQuantity as somebody typed it */
/** @typedef {{ si: number, entered: EnteredQuantity }} Quantity */

/** @param {number} value */
const digitsOf = (value) => (String(value).split('.')[1] ?? '').length;

/**
 * A quantity as it would be typed, with its SI value.
 * @param {number} value
 * @param {Unit} unit
 * @returns {Quantity}
 */
export function q(value, unit) {
  return { si: value * FACTORS[unit], entered: { value, unit, digits: digitsOf(value) } };
}

/** @param {number} value */
export const bar = (value) => q(value, 'bar');

/**
 * Degrees Celsius, kept in kelvin.
 * @param {number} value
 * @returns {Quantity}
 */
export const celsius = (value) => ({
  si: value + 273.15,
  entered: { value, unit: 'Cel', digits: digitsOf(value) },
});

/**
 * The two columns of a typed quantity.
 * @template {import('./rows.types.js').QuantityName} Name
 * @template {import('./rows.types.js').SiEnding<Name>} Ending
 * @param {Name} name
 * @param {Ending} ending
 * @param {Quantity | null} quantity
 */
export const columns = (name, ending, quantity) =>
  /** @type {Record<`${Name}_${Ending}`, number | null> & Record<`${Name}_entered`, EnteredQuantity | null>} */ ({
    [`${name}_${ending}`]: quantity?.si ?? null,
    [`${name}_entered`]: quantity?.entered ?? null,
  });

/**
 * A component's figure, with its source.
 * @param {number} value
 * @param {Unit} unit
 * @param {string} source
 */
export const figure = (value, unit, source) => {
  const { si, entered } = q(value, unit);
  return { ...entered, si, source };
};
