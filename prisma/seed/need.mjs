/**
 * What the scenario counts on; it says what is missing where somebody changed one part of it alone.
 * @template Value
 * @param {Value | undefined} value
 * @param {string} what
 * @returns {Value}
 */
export function need(value, what) {
  if (value === undefined) throw new Error(`the scenario needs ${what}`);
  return value;
}

/**
 * @param {import('./world.types.js').Machine} machine
 * @param {number} [index] of its circuits
 */
export const needCircuit = (machine, index = 0) =>
  need(machine.circuits[index], `circuit ${String(index + 1)} of ${machine.name}`);
