/** Quantities of the scenario as they would be typed, with their SI value. */
const FACTOR = {
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

const digitsOf = (value) => (String(value).split('.')[1] ?? '').length;

export function q(value, unit) {
  const factor = FACTOR[unit];
  if (factor === undefined) throw new Error(`the scenario uses no unit ${unit}`);
  return { si: value * factor, entered: { value, unit, digits: digitsOf(value) } };
}

/** The two columns of a typed quantity. */
export const columns = (name, suffix, quantity) => ({
  [`${name}_${suffix}`]: quantity?.si ?? null,
  [`${name}_entered`]: quantity?.entered ?? null,
});

/** A component's figure, with its source. */
export const figure = (value, unit, source) => {
  const { si, entered } = q(value, unit);
  return { ...entered, si, source };
};
