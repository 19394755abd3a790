/** Check 11, worked out by hand a second time. Sources: reference formulas `leak-down`, `trapped-oil-thermal-rise`; ASTM D341. */
import type { CircuitFacts } from '../../src/index.js';
import { blindness, isUnheld, requiredSpreads } from './plain-pressure-checks.js';
import { decayRate, figure, gaugeError, requiredPressure, settingOf } from './plain-pressures.js';
import { oilTemperatures, opposingAreas, viscosityAt } from './plain-pressures.js';
import { reliefsOf } from './plain-reliefs.js';
import { riseBehind } from './plain-leak-behind.js';
import { isIn, warmUp, warmUpOfUnclamp } from './plain-shut-in.js';
import { add, compare, known, stands, times, worst } from './plain-verdict.js';
import type { Verdict } from './plain-verdict.js';

/** Viscosity at work over that of oil that has warmed up from there. */
function thinningByWarmth(facts: CircuitFacts): number | null {
  const { working } = oilTemperatures(facts);
  const { trappedTemperatureRiseK: warmer } = facts.circuit;
  if (warmer !== null && warmer <= 0) return 1;
  if (working === null || warmer === null) return null;
  const [thick, thin] = [viscosityAt(facts, working), viscosityAt(facts, working + warmer)];
  return thick === null || thin === null || thin > thick ? null : thick / thin;
}

/** 11: from the lowest at which the pump may have left it, less leak and cooling, at least what is required; and proved again after. */
export function holdsWithoutSupply(facts: CircuitFacts): Verdict {
  const { isDecoupled, isProvedAgain, timeWithoutSupplyS, coolingWithoutSupplyK } = facts.circuit;
  if (isDecoupled === false) return stands('not-applicable', 'always supplied');
  if (isDecoupled === null) return stands('unproven', 'decoupled or not');
  if (isUnheld(facts)) return stands('fails', 'no pressure holds it');
  const { inUse } = facts.settings;
  const restart = add(inUse?.pumpRestartPa ?? null, -known(inUse?.pumpRestartTolerancePa));
  const { low, settingPa, lowest } = settingOf(facts);
  const required = requiredPressure(facts);
  const perKelvin = times(facts.circuit.trappedNetExpansionPerK, facts.circuit.trappedBulkModulusPa);
  const cooling = times(perKelvin, coolingWithoutSupplyK);
  const starts = [restart, low ?? settingPa, settingOf(facts).stallLowPa].filter((pa) => pa !== null);
  const start = starts.length === 0 ? null : Math.min(...starts);
  const warm = warmUp(facts);
  const rise = warm === null ? null : Math.max(0, warm);
  const timed = times(decayRate(facts), timeWithoutSupplyS);
  // A leak grows with the pressure (laminar), which warm oil raises, and as the oil grows thin: what was timed at the setting is so much more.
  const thinner = thinningByWarmth(facts);
  const byPressure = rise === null || settingPa === null ? null : 1 + rise / settingPa;
  const whole = times(times(timed, thinner), byPressure);
  const isLeakKnown = timed === 0 || whole !== null;
  const gone = timed === 0 ? 0 : (whole ?? times(timed, Math.max(1, known(thinner)) * Math.max(1, known(byPressure))));
  const gauge = gaugeError(facts);
  // What oil moves both ways may leak into the unclamp line, which is shut too, until both have the same.
  const opposing = opposingAreas(facts);
  const isOneWay = opposing.isComplete && opposing.atLeast === 0;
  const rising = isOneWay ? 0 : riseBehind(facts, required.atLeast);
  const highest = known(settingPa) + known(settingOf(facts).tolerancePa) + known(gauge) + known(rise);
  const behind = gone === null || gone === 0 ? 0 : Math.min(known(rising) * gone, highest);
  const leak = gone === null ? null : gone + behind * opposing.atLeast;
  const isBehindKnown = timed === 0 || isOneWay || (rising !== null && opposing.isComplete);
  // What the pump lifts to was read on no gauge.
  const leastRead = Math.min(restart ?? Infinity, low ?? settingPa ?? Infinity) - known(gauge);
  const leastStart = Math.min(leastRead, settingOf(facts).stallLowPa ?? Infinity);
  const isFromRestart = restart !== null && start === restart;
  // Each that bounds the start is as likely as its own errors say; what the pump lifts to was read on no gauge.
  const bounds: [number | null, readonly number[]][] = [
    [settingPa, [known(settingOf(facts).tolerancePa), known(gauge)]],
    [inUse?.pumpRestartPa ?? null, [known(inUse?.pumpRestartTolerancePa), known(gauge)]],
    [settingOf(facts).stallLowPa, []],
  ];
  const part = (name: string, lost: number | null) =>
    compare({
      part: name,
      demand: required.atLeast,
      capacity: add(start, -known(leak) - known(lost)),
      tolerances: [isFromRestart ? (inUse?.pumpRestartTolerancePa ?? null) : settingOf(facts).tolerancePa],
      spreads: requiredSpreads(facts),
      gauge,
      gaugeOn: 'capacity',
      least: leastStart - known(leak) - known(lost),
      others: bounds.flatMap(([pa, errors]) =>
        pa === null ? [] : [{ capacity: pa - known(leak) - known(lost), errors }],
      ),
      asked: facts.marginsAsked['holds-without-supply'],
      isIncomplete:
        !required.isComplete ||
        restart === null ||
        (inUse?.pumpRestartTolerancePa ?? null) === null ||
        lowest === null ||
        leak === null ||
        !isLeakKnown ||
        !isBehindKnown ||
        lost === null,
    });
  // Both lines warm up: p_c + dp_c holds, p_u + dp_u works against it on the larger area of what pulls. Where the unclamp line can be blocked
  // anyway its part is required from the start.
  const areas = opposingAreas(facts);
  const isReckoned = facts.circuit.unclampLineCanBlock === true;
  const warmOpposed = isReckoned ? 0 : warmUpOfUnclamp(facts);
  const isNone = warmOpposed !== null && warmOpposed <= 0;
  const against =
    isNone || (areas.isComplete && areas.atLeast === 0)
      ? 0
      : times(areas.isComplete ? areas.atLeast : null, warmOpposed);
  const net = against === null ? null : add(against, rise === null ? null : -rise);
  const taken = against === 0 ? 0 : net === null ? null : Math.max(0, net);
  const parts = [part('required', cooling), ...(taken === 0 ? [] : [part('required, warm', taken)])];
  // A relief that may sit beyond what shuts off caps the clamp line, and what it lets out is missing when it is cold again.
  const mayLetOut = reliefsOf(facts).filter(
    (one) => one.place === 'circuit' && isIn(one, 'clamp') && one.isBeyondShutOff !== false,
  );
  for (const relief of rise === 0 && against === 0 ? [] : mayLetOut) {
    const half = known(figure(relief, 'openingTolerance'));
    const opens = figure(relief, 'openingPressure');
    const lowest = add(opens, -half);
    // Open once, it lets out oil until it shuts again; it opens if setting, warm-up and gauge can reach it.
    const reached = add(add(settingPa, settingOf(facts).tolerancePa), add(gauge, rise));
    const doesOpen = lowest === null || reached === null || lowest <= reached;
    const reseats = figure(relief, 'reseatPressure');
    const left = doesOpen && reseats !== null && opens !== null ? Math.min(reseats, opens) - half : lowest;
    const isLeftKnown = !doesOpen || reseats !== null;
    const leaves = (name: string, from: number | null, lost: number | null, isKnown: boolean) =>
      compare({
        part: name,
        demand: required.atLeast,
        capacity: lost === null ? null : add(from, -lost),
        tolerances: [half],
        spreads: requiredSpreads(facts),
        gauge: 0,
        asked: facts.marginsAsked['holds-without-supply'],
        isIncomplete: !required.isComplete || !isKnown,
      });
    const isKnown = leak !== null && isLeakKnown && isBehindKnown;
    parts.push(leaves('clamp line held', left, add(against, known(leak)), against !== null && isKnown && isLeftKnown));
    // Of what nobody knows, the rest is lost for certain.
    const lost = known(leak) + known(cooling);
    parts.push(leaves('oil let out', left, add(rise, lost), isKnown && cooling !== null && isLeftKnown));
  }
  const again = isProvedAgain === true ? [] : [stands(isProvedAgain === null ? 'unproven' : 'fails', 'proved again')];
  return worst([...parts, ...again, ...blindness(facts)]);
}
