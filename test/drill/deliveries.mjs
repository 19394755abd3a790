import { createHash } from 'node:crypto';

const HOUR = 3_600_000;

/**
 * A seeded generator (mulberry32).
 * @param {number} seed
 */
export function seeded(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const whole = (/** @type {number} */ below) => Math.floor(next() * below);
  /** @template T @param {readonly T[]} list @returns {T[]} */
  const shuffled = (list) => {
    const out = [...list];
    for (let at = out.length - 1; at > 0; at -= 1) {
      const other = whole(at + 1);
      [out[at], out[other]] = [/** @type {T} */ (out[other]), /** @type {T} */ (out[at])];
    }
    return out;
  };
  return { next, whole, chance: (/** @type {number} */ share) => next() < share, shuffled };
}

/** @typedef {import('./recount.mjs').Said} Said */
/**
 * @typedef {object} Letter
 * @property {string} id
 * @property {string} source
 * @property {string} body
 * @property {string} sha
 * @property {Said[]} said what of it can be taken in
 * @property {string[]} bad what must become a finding: kind by kind
 */

/**
 * The deliveries of one run: hours of every circuit, with revisions, contradictions, overlaps, strangers and nonsense.
 * @param {ReturnType<typeof seeded>} random
 * @param {{ sourceIds: string[], machines: { circuitIds: string[] }[] }} world
 * @param {number} start the hour from which on this run reports
 * @param {string} name of the run
 * @returns {Letter[]}
 */
export function writeLetters(random, world, start, name) {
  /** @type {{ machine: number, station: number, said: Said }[]} */
  const reports = [];
  for (const [machine, { circuitIds }] of world.machines.entries()) {
    for (const [station, circuit] of circuitIds.entries()) {
      for (let hour = 0; hour < 12; hour += 1) {
        const from = start + hour * HOUR;
        const say = (/** @type {number} */ revision, /** @type {number} */ hours = 1) =>
          reports.push({
            machine,
            station,
            said: {
              circuit,
              from,
              to: from + hours * HOUR,
              revision,
              cycles: random.whole(90),
              alarms: random.chance(0.2) ? 1 + random.whole(4) : 0,
            },
          });
        say(1);
        if (random.chance(0.2)) say(2);
        if (random.chance(0.1)) say(3);
        if (random.chance(0.06)) say(1);
        if (random.chance(0.05)) say(1, 2 + random.whole(3));
      }
    }
  }
  /** @type {Letter[]} */
  const letters = [];
  const waiting = random.shuffled(reports);
  while (waiting.length > 0) {
    const source = world.sourceIds[random.whole(world.sourceIds.length)] ?? '';
    const id = `${name}-${random.whole(1_000_000_000)}`;
    const letter = toLetter(random, id, source, withoutRivals(waiting.splice(0, 1 + random.whole(6)), waiting));
    letters.push(letter);
    // The same id with something else in it: whichever comes first wins.
    if (random.chance(0.04))
      letters.push(toLetter(random, id, source, withoutRivals(random.shuffled(reports).slice(0, 2), [])));
  }
  return letters;
}

/**
 * Which of two numbers of one delivery counts is nobody's to say but the product's: each goes into a delivery of its own.
 * @template {{ said: Said }} R
 * @param {readonly R[]} reports
 * @param {R[]} waiting takes back what goes into another delivery
 */
function withoutRivals(reports, waiting) {
  /** @type {R[]} */
  const kept = [];
  for (const report of reports) {
    const { circuit, from, to, revision } = report.said;
    const isRival = kept.some(
      ({ said }) => said.circuit === circuit && said.from === from && said.to === to && said.revision === revision,
    );
    (isRival ? waiting : kept).push(report);
  }
  return kept;
}

/**
 * @param {ReturnType<typeof seeded>} random
 * @param {string} id
 * @param {string} source
 * @param {{ machine: number, station: number, said: Said }[]} reports
 * @returns {Letter}
 */
function toLetter(random, id, source, reports) {
  const interval = (/** @type {{ station: number, said: Said }} */ { station, said }) => ({
    circuit: `P${station + 1}`,
    from: new Date(said.from).toISOString(),
    to: new Date(said.to).toISOString(),
    revision: said.revision,
    clampCycles: said.cycles,
    alarms: said.alarms === 0 ? {} : { 'low-air': said.alarms },
  });
  const data = reports.map((report) => ({ machine: `M-${report.machine}`, intervals: [interval(report)] }));
  const bad = [];
  const [first] = reports;
  if (first !== undefined && random.chance(0.05)) {
    data.push({ machine: 'M-stranger', intervals: [interval(first)] });
    bad.push('unknown-machine');
  }
  if (first !== undefined && random.chance(0.05)) {
    data.push({ machine: `M-${first.machine}`, intervals: [{ ...interval(first), clampCycles: -3 }] });
    bad.push('bad-count');
  }
  const body = JSON.stringify({ type: 'alarm.counts', timestamp: new Date().toISOString(), data });
  const sha = createHash('sha256').update(body).digest('hex');
  return { id, source, body, sha, said: reports.map(({ said }) => said), bad };
}
