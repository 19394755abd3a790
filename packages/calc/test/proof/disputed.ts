/**
 * Where a careful engineer reads a circuit as worse than the product does today. Each entry says when it may differ and why; a difference
 * that has been mended must leave the list, since a test sees that every entry is still met.
 */
import type { CheckCode, CircuitFacts } from '../../src/index.js';
import type { Bounded } from './plain-part-checks.js';
import { seesClamps, settingOf } from './plain-pressures.js';
import type { Status } from './plain-verdict.js';

export interface Case {
  code: CheckCode;
  facts: CircuitFacts;
  told: Status;
  mine: Bounded;
}
interface Disputed {
  name: string;
  why: string;
  checks: readonly CheckCode[];
  applies: (difference: Case) => boolean;
}

const ALL_PRESSURE: readonly CheckCode[] = [
  'holds-workpiece',
  'no-nuisance-stop',
  'setting-within-rating',
  'highest-within-rating',
  'workpiece-limit',
  'shared-supply',
  'holds-without-supply',
];

/** The first that applies speaks for a difference. */
export const DISPUTED: readonly Disputed[] = [
  {
    name: 'blind switch',
    why: 'behind a check valve a switch on the supply sees nothing of the clamps',
    checks: ['holds-workpiece', 'clamping-time', 'interlock-sound', 'holds-without-supply'],
    applies: ({ facts, mine }) => seesClamps(facts) !== true && mine.part.includes('the clamps'),
  },
  {
    name: 'no fixture',
    why: 'with no fixture fitted nobody knows what is required, rated or to be ordered: taking it away must not improve a status',
    checks: ['holds-workpiece', 'setting-within-rating', 'highest-within-rating', 'order-and-speed', 'reservoir'],
    applies: ({ facts }) => facts.fixture === null,
  },
  {
    name: 'low air',
    why: 'a circuit never has more than its pump stalls at with the lowest plant air; where that is not known, nor is its lowest',
    checks: ['no-nuisance-stop', 'shared-supply', 'clamping-time', 'holds-without-supply'],
    applies: ({ facts, mine }) => {
      const { isStarved, stallLowPa } = settingOf(facts);
      return facts.powerUnit.drive === 'air' && (isStarved || stallLowPa === null) && !mine.part.startsWith('contact');
    },
  },
  {
    name: 'restart above setting',
    why: 'a restart, or a reading, above the lowest of the setting is no pressure that the circuit has; without a setting nobody knows',
    checks: ['shared-supply'],
    applies: ({ facts }) => {
      const { low } = settingOf(facts);
      if (low === null) return true;
      const { inUse, readings } = facts.settings;
      const restart = inUse?.pumpRestartPa ?? 0;
      const reached = Math.max(restart - (inUse?.pumpRestartTolerancePa ?? 0), readings?.lowestWhileSharedPa ?? 0);
      return reached > low;
    },
  },
  {
    name: 'contact and switch',
    why: 'contact and switch were read with the same tolerance: contact + tolerance must come before switch - tolerance',
    checks: ['clamping-time'],
    applies: ({ mine }) => mine.part === 'contact before switch',
  },
  {
    name: 'probability decides',
    why: 'a check whose probability is under 0.95 fails although the stated tolerances hold',
    checks: ALL_PRESSURE,
    applies: ({ mine }) => mine.status === 'fails' && mine.margin !== null && mine.margin >= 0,
  },
  {
    name: 'reset above set point',
    why: 'a switch drops out below where it makes: a reset point above the set point cannot be, and is credited to check 1',
    checks: ['holds-workpiece'],
    applies: ({ facts }) => (facts.settings.inUse?.resetPointPa ?? 0) > (facts.settings.inUse?.setPointPa ?? Infinity),
  },
  {
    name: 'measured without contact',
    why: 'a measured time to the switch counts though nobody read the contact: taking the contact away must not shorten it',
    checks: ['clamping-time'],
    applies: ({ facts }) => {
      const { readings } = facts.settings;
      return readings !== null && readings.clampTimeS !== null && readings.contactTimeS === null;
    },
  },
  {
    name: 'cold sooner than warm',
    why: 'opening with cold oil takes no less than was measured with warmer oil, or with oil of a temperature that nobody read',
    checks: ['unclamping'],
    applies: ({ mine }) => mine.part !== 'spring',
  },
  {
    name: 'spring drags friction',
    why: 'a spring must beat the friction of its seals as well as the pressure behind the piston',
    checks: ['unclamping'],
    applies: ({ mine }) => mine.part === 'spring',
  },
  {
    name: 'oil at the highest',
    why: 'oil gives way by the highest pressure that there can be, not by the stall at the air set',
    checks: ['reservoir'],
    applies: ({ facts }) => facts.powerUnit.drive === 'air' && facts.powerUnit.plantAirHighPa === null,
  },
  {
    name: 'fails by what is known',
    why: 'what is known is too much already, whatever the missing figure is: unproven would be an improvement by taking a figure away',
    checks: [...ALL_PRESSURE, 'control-wiring', 'clamping-time', 'unclamping', 'order-and-speed'],
    applies: ({ told, mine }) => told === 'unproven' && mine.status === 'fails',
  },
];
