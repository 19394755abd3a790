import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { isBad, Prover } from '../src/way-out/prover.js';
import type { WayOut } from '../src/way-out/way-out.types.js';

/** Settings and switch points of a circuit in steps of 10 bar, at which some checks are right together. */
export function listRight(facts: CircuitFacts, { bounds }: WayOut): string[] {
  const { inUse } = facts.settings;
  if (inUse === null) return [];
  const codes = bounds.map(({ code }) => code);
  const prover = new Prover();
  const right: string[] = [];
  const apartPa = Math.max(1e5, Number(inUse.setPointPa) - Number(inUse.resetPointPa));
  for (let settingPa = 100e5; settingPa <= 240e5; settingPa += 10e5) {
    for (let resetPointPa = 80e5; resetPointPa < settingPa; resetPointPa += 10e5) {
      const set = { ...inUse, settingPa, resetPointPa, setPointPa: resetPointPa + apartPa };
      const made = { ...facts, settings: { ...facts.settings, inUse: set, isAsLeft: false } };
      if (!prover.prove(made, codes).some(isBad)) right.push(`${settingPa / 1e5} and ${resetPointPa / 1e5} bar`);
    }
  }
  return right;
}
