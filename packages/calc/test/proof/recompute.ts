/** The thirteen checks of a circuit worked out a second time, plainly: a test compares them with what the product says. */
import { highestWithinRating } from './plain-highest.js';
import type { CheckCode, CircuitFacts } from '../../src/index.js';
import { clampingTime, interlockSound, orderAndSpeed, reservoir, unclamping } from './plain-part-checks.js';
import type { Bounded } from './plain-part-checks.js';
import {
  holdsWorkpiece,
  noNuisanceStop,
  settingWithinRating,
  sharedSupply,
  workpieceLimit,
} from './plain-pressure-checks.js';
import { holdsWithoutSupply } from './plain-without-supply.js';
import { standing } from './plain-pressures.js';
import { controlWiring } from './plain-wiring.js';
import type { Verdict } from './plain-verdict.js';

export type Recomputed = Record<CheckCode, Bounded>;
const exact = (verdict: Verdict): Bounded => ({ ...verdict, isBound: false });

const recomputeStanding = (facts: CircuitFacts): Recomputed => ({
  'holds-workpiece': exact(holdsWorkpiece(facts)),
  'no-nuisance-stop': exact(noNuisanceStop(facts)),
  'setting-within-rating': exact(settingWithinRating(facts)),
  'highest-within-rating': exact(highestWithinRating(facts)),
  'clamping-time': clampingTime(facts),
  unclamping: unclamping(facts),
  'control-wiring': exact(controlWiring(facts)),
  'interlock-sound': interlockSound(facts),
  'workpiece-limit': exact(workpieceLimit(facts)),
  'shared-supply': exact(sharedSupply(facts)),
  'holds-without-supply': exact(holdsWithoutSupply(facts)),
  'order-and-speed': orderAndSpeed(facts),
  reservoir: reservoir(facts),
});

export const recompute = (facts: CircuitFacts): Recomputed => recomputeStanding(standing(facts));
