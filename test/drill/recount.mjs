/**
 * What must be stored, told from the deliveries alone: written apart from the product, slowly and plainly, so that both have to be
 * wrong in the same way to agree.
 * @typedef {{ circuit: string, from: number, to: number, revision: number, cycles: number, alarms: number }} Said
 * @typedef {{ id: string, source: string, said: Said[] }} Told
 */

/** @param {Said} said */
const intervalOf = (said) => `${said.circuit} ${said.from} ${said.to}`;
/** @param {Said} said */
const wordOf = (said) => `${intervalOf(said)} ${said.revision} ${said.cycles} ${said.alarms}`;

/**
 * @param {readonly Told[]} deliveries
 * @returns {{ rows: string[], standing: string[], cycles: number, contradictions: string[], overlaps: string[] }}
 */
export function recount(deliveries) {
  // By id, then by source: the line break sorts before anything that may stand in an id.
  const nameOf = (/** @type {Told} */ told) => `${told.id}\n${told.source}`;
  // Everything that was said, by the first delivery (in the order of their names) that said it.
  /** @type {Map<string, { said: Said, by: string }>} */
  const words = new Map();
  const inOrder = [...deliveries].sort((a, b) => (nameOf(a) < nameOf(b) ? -1 : 1));
  for (const delivery of inOrder) {
    for (const word of delivery.said) {
      if (!words.has(wordOf(word))) words.set(wordOf(word), { said: word, by: nameOf(delivery) });
    }
  }
  const all = [...words.values()];
  /** @type {typeof all} */
  const candidates = [];
  /** @type {Set<string>} */
  const contradictions = new Set();
  for (const report of all) {
    const rivals = all.filter((other) => intervalOf(other.said) === intervalOf(report.said));
    const best = Math.max(...rivals.map((rival) => rival.said.revision));
    const same = rivals.filter((rival) => rival.said.revision === report.said.revision);
    if (same.length > 1) contradictions.add(`${intervalOf(report.said)} ${report.said.revision}`);
    // Words came in the order of the deliveries' names: the first of the best is the candidate.
    if (report.said.revision === best && same[0] === report) candidates.push(report);
  }
  candidates.sort((a, b) =>
    a.by !== b.by ? (a.by < b.by ? -1 : 1) : a.said.from - b.said.from || a.said.to - b.said.to,
  );
  /** @type {typeof all} */
  const standing = [];
  /** @type {Set<string>} */
  const overlaps = new Set();
  for (const candidate of candidates) {
    const meets = (/** @type {{ said: Said }} */ other) =>
      other.said.circuit === candidate.said.circuit &&
      other.said.from < candidate.said.to &&
      candidate.said.from < other.said.to;
    for (const other of candidates) {
      if (other !== candidate && meets(other))
        overlaps.add([intervalOf(candidate.said), intervalOf(other.said)].sort().join(' | '));
    }
    if (!standing.some(meets)) standing.push(candidate);
  }
  return {
    rows: [...words.keys()].sort(),
    standing: standing.map(({ said }) => wordOf(said)).sort(),
    cycles: standing.reduce((sum, { said }) => sum + said.cycles, 0),
    contradictions: [...contradictions].sort(),
    overlaps: [...overlaps].sort(),
  };
}
