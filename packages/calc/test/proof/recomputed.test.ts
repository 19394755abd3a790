import { proveFacts } from '../../src/index.js';
import { CHECK_CODES } from '../../src/circuit-checks/checks.js';
import type { CheckCode, CircuitFacts } from '../../src/index.js';
import { aCircuit, aRandomCircuit } from '../facts-builder.js';
import { HAND_MADE } from './hand-made.js';
import type { Bounded } from './plain-part-checks.js';
import type { Status, Verdict } from './plain-verdict.js';
import { recompute } from './recompute.js';

const CIRCUITS = 1_000;
/** Of so many more the margins make up for those of what fails by no number: a switch that does not sense the clamps. */
const MORE = 160;
const BEST_FIRST: readonly Status[] = ['not-applicable', 'holds', 'marginal', 'unproven', 'fails'];
const isWorse = (a: Status, b: Status) => BEST_FIRST.indexOf(a) > BEST_FIRST.indexOf(b);

interface Told {
  code: CheckCode;
  status: Status;
  demand: number | null;
  capacity: number | null;
  margin: number | null;
}
function tell(facts: CircuitFacts): Told[] {
  return proveFacts(facts).checks.map((check): Told => {
    const { code, status, stated } = check;
    const inPascal =
      stated === null ? null : { demand: stated.demandPa, capacity: stated.capacityPa, margin: stated.marginPa };
    const numbers = inPascal ?? ('numbers' in check ? (check.numbers?.stated ?? null) : null);
    return { code, status, ...(numbers ?? { demand: null, capacity: null, margin: null }) };
  });
}

/** Within 1e-6 of the greater of demand and capacity. */
const agrees = (told: Told, part: Verdict): boolean =>
  told.margin !== null &&
  part.margin !== null &&
  Math.abs(told.margin - part.margin) <= 1e-6 * Math.max(Math.abs(told.demand ?? 0), Math.abs(told.capacity ?? 0));

/** Several parts may be as bad: the product may tell the numbers of any that stands as the whole does. */
function hasItsNumbers(shown: Told, mine: Bounded): boolean {
  if (shown.margin === null || mine.margin === null) return true;
  return [mine, ...(mine.parts ?? [])].some((part) => part.status === mine.status && agrees(shown, part));
}

/** The product tells a margin that is larger. */
const isBetterTold = (told: Told, mine: Bounded): boolean =>
  told.margin !== null && mine.margin !== null && told.margin > mine.margin && !agrees(told, mine);

/** The product tells a demand that is less than it can be. */
const isTooLittle = (told: Told, { leastDemand }: Bounded) =>
  told.demand !== null && leastDemand != null && told.demand < leastDemand * (1 - 1e-6);

interface Difference {
  /** which circuit */
  name: string;
  code: CheckCode;
  told: Status;
  toldMargin: number | null;
  mine: Bounded;
}
interface Comparison {
  differences: Difference[];
  /** checks of which status, or status and margin, were found equal */
  statuses: number;
  margins: number;
}

function compareAll(): Comparison {
  const found: Comparison = { differences: [], statuses: 0, margins: 0 };
  const random = Array.from({ length: CIRCUITS + MORE }, (_, index): [string, CircuitFacts] => [
    `seed ${index + 1}`,
    aRandomCircuit(index + 1),
  ]);
  for (const [name, facts] of [...random, ...Object.entries(HAND_MADE)]) {
    const recomputed = recompute(facts);
    for (const shown of tell(facts)) {
      const mine = recomputed[shown.code];
      // Where something was left out here, the product may find worse, never better.
      // What the product knows to be wrong although something is missing is no difference, nor which of two broken parts it tells.
      const isBroken =
        shown.status === 'fails' &&
        (mine.status === 'unproven' || (mine.status === 'fails' && !isBetterTold(shown, mine)));
      if (isBroken) {
        found.statuses += 1;
        continue;
      }
      const isStatusRight = mine.isBound ? !isWorse(mine.status, shown.status) : mine.status === shown.status;
      const isRight = isStatusRight && (mine.isBound ? !isTooLittle(shown, mine) : hasItsNumbers(shown, mine));
      if (isRight) {
        found.statuses += 1;
        if (!mine.isBound && shown.margin !== null && mine.margin !== null) found.margins += 1;
      } else {
        found.differences.push({ name, code: shown.code, told: shown.status, toldMargin: shown.margin, mine });
      }
    }
  }
  return found;
}

const describeDifference = ({ name, code, told, toldMargin, mine }: Difference) =>
  `${name}, ${code}: told ${told} ${toldMargin}, by hand ${mine.status} ${mine.margin} (${mine.part})`;

describe('the thirteen checks, worked out a second time', () => {
  const { differences, statuses, margins } = compareAll();

  it('agree over random circuits and those made by hand', () => {
    expect(differences.map(describeDifference)).toEqual([]);
  });

  it('compare enough to mean something', () => {
    expect(statuses).toBeGreaterThan(0.5 * CIRCUITS * CHECK_CODES.length);
    expect(margins).toBeGreaterThan(0.14 * CIRCUITS * CHECK_CODES.length);
  });

  it('agree on the circuit that holds', () => {
    const facts = aCircuit();
    const recomputed = recompute(facts);
    const different = tell(facts).filter(({ code, status }) => recomputed[code].status !== status);
    expect(different).toEqual([]);
  });
});
