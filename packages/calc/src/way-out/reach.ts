import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import type { FigureRef } from '../pressure-ladder/pressure-ladder.types.js';
import { toAirOf } from './apply-change.js';
import type { ChangeCode } from './changes.js';
import type { WayOutChange } from './way-out.types.js';

/** What is set at the power unit, and by that for each circuit that it feeds. */
const AT_POWER_UNIT: ReadonlySet<ChangeCode> = new Set(['air-pressure', 'pump-restart', 'restart-tolerance']);
/** A circuit with a reducing valve of its own has a setting of its own. */
const OWN_IF_REDUCED: ReadonlySet<ChangeCode> = new Set(['setting', 'setting-tolerance']);

function listReached({ circuit, neighbours, components, control }: CircuitFacts, change: WayOutChange): FigureRef[] {
  const { holder, id, code } = change;
  const toRef = (one: { id: string; name: string }): FigureRef => ({ entity: 'circuit', id: one.id, name: one.name });
  const isOfUnit =
    holder === 'power-unit' ||
    (holder === 'component' && components.some((one) => one.id === id && one.place === 'power-unit')) ||
    AT_POWER_UNIT.has(code) ||
    (OWN_IF_REDUCED.has(code) && circuit.hasReducingValve !== true);
  if (isOfUnit) return neighbours.map(toRef);
  const isOfMachine = holder === 'machine' || holder === 'behaviour';
  return isOfMachine ? control.circuits.filter((one) => one.id !== circuit.id).map(toRef) : [];
}

/** The air that an air-driven pump is given with its setting, where that changes it. */
function toAirWith(facts: CircuitFacts, { code, lowest, highest }: WayOutChange): Pick<WayOutChange, 'air'> {
  const { inUse } = facts.settings;
  if (code !== 'setting' || inUse === null) return {};
  const airOf = (settingPa: number | null): number | null => settingPa && toAirOf(facts, inUse, settingPa);
  const air = { lowest: airOf(lowest), highest: airOf(highest) };
  return [air.lowest, air.highest].some((airPa) => airPa !== null && airPa !== inUse.airPressurePa) ? { air } : {};
}

/** The changes, each with what goes with it, and the other circuits that it reaches: what it does to them is not looked at here. */
export const withReach = (facts: CircuitFacts, changes: readonly WayOutChange[]): WayOutChange[] =>
  changes.map((change) => ({ ...change, ...toAirWith(facts, change), alsoReaches: listReached(facts, change) }));
