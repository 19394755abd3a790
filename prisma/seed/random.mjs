/** @typedef {ReturnType<typeof createRandom>} Random */

/**
 * A seeded generator (mulberry32): the same scenario every time.
 * @param {number} seed
 */
export function createRandom(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  /**
   * @param {number} low
   * @param {number} high
   */
  const between = (low, high) => low + next() * (high - low);
  return {
    next,
    between,
    /**
     * @param {number} low
     * @param {number} high which it may be too
     */
    whole: (low, high) => Math.floor(between(low, high + 1)),
    /**
     * @template Choice
     * @param {readonly [Choice, ...Choice[]]} choices
     */
    pick: (choices) => choices[Math.floor(next() * choices.length)] ?? choices[0],
    /** @param {number} share of the cases in which it is so */
    chance: (share) => next() < share,
    /**
     * A Poisson count, by Knuth's product of uniforms.
     * @param {number} mean
     */
    count: (mean) => {
      const limit = Math.exp(-mean);
      let product = next();
      let count = 0;
      while (product > limit) {
        product *= next();
        count += 1;
      }
      return count;
    },
    /**
     * UUID version 7 at an instant, its random bits from the seed.
     * @param {Date} at
     */
    id: (at) => {
      const time = Math.max(0, at.getTime()).toString(16).padStart(12, '0');
      const bits = Array.from({ length: 19 }, () => Math.floor(next() * 16).toString(16)).join('');
      const variant = (8 + Math.floor(next() * 4)).toString(16);
      return `${time.slice(0, 8)}-${time.slice(8)}-7${bits.slice(0, 3)}-${variant}${bits.slice(3, 6)}-${bits.slice(6, 18)}`;
    },
  };
}
