import type { CircuitFacts } from '../../src/index.js';
import { figure, fittedOf } from './plain-pressures.js';
import { add, compare, stands, times, worst } from './plain-verdict.js';
import type { Verdict } from './plain-verdict.js';

/** Copper: 1.7241e-8 ohm m at 20 C, 0.00393 per K (`conductor-resistance`). */
const COPPER_OHM_M = 1.7241e-8;
const resistance = (lengthM: number, crossSectionM2: number, temperatureK: number) =>
  ((COPPER_OHM_M * lengthM) / crossSectionM2) * (1 + 0.00393 * (temperatureK - 293.15));

/** 7: supply, coil voltage, duty, suppression, polarity, commons, protection, insulation. */
export function controlWiring(facts: CircuitFacts): Verdict {
  const { machine, signals, wires, circuits } = facts.control;
  const ownSignals = signals.filter(({ circuitId }) => circuitId === facts.circuit.id);
  const valve = fittedOf(facts, 'directional-valve');
  const parts: Verdict[] = [];
  const plain = (part: string, demand: number | null, capacity: number | null) =>
    compare({ part, demand, capacity, tolerances: [], gauge: 0, asked: 0 });
  const yes = (part: string, answer: boolean | null) =>
    stands(answer === null ? 'unproven' : answer ? 'holds' : 'fails', part);

  // One coil of each valve at a time; every circuit of the machine draws on the same supply.
  const coils = circuits.filter(({ hasValve }) => hasValve).map(({ coilPowerW }) => coilPowerW);
  const coilLoad = coils.reduce<number | null>((sum, watts) => add(sum, watts), 0);
  const reserve = machine.supplyReserveRatio;
  const steady = add(machine.controlLoadW, coilLoad);
  parts.push(plain('supply', reserve === null ? null : times(steady, 1 + reserve), machine.supplyRatingW));
  parts.push(plain('inrush', add(machine.controlLoadPeakW, coilLoad), machine.supplyPeakW));
  parts.push(yes('commons', machine.hasSeparateCommons));

  const [rated, watts] = [figure(valve, 'coilVoltage'), figure(valve, 'coilPower')];
  const [tolerance, duty] = [figure(valve, 'coilTolerance'), figure(valve, 'coilDuty')];
  for (const signal of ownSignals.filter(({ direction }) => direction === 'output')) {
    const wire = wires.find(({ signalId }) => signalId === signal.id);
    const supply = machine.controlVoltageV;
    let off: number | null = null;
    if (wire !== undefined && rated !== null && watts !== null && supply !== null) {
      if (wire.lengthM !== null && wire.crossSectionM2 !== null && machine.controlTemperatureK !== null) {
        const coil = rated ** 2 / watts;
        const both = 2 * resistance(wire.lengthM, wire.crossSectionM2, machine.controlTemperatureK);
        // As much as the supply gives where the wires lose nothing, as little as they leave.
        off = Math.max(supply - rated, rated - (supply * coil) / (coil + both));
      }
    }
    parts.push(plain('voltage at coil', off, times(tolerance, rated)));
    const isContinuous = duty === null ? null : duty >= 1;
    parts.push(yes('duty', signal.isHeldOn === false ? true : signal.isHeldOn === null ? null : isContinuous));
    parts.push(yes('suppression', signal.suppression === null ? null : signal.suppression !== 'none'));
    parts.push(plain('output voltage', add(supply, signal.suppressionVoltageV), machine.outputRatingV));
    parts.push(yes('polarity', signal.isPolarityRight));
  }
  for (const wire of wires.filter(({ signalId }) => ownSignals.some(({ id }) => id === signalId))) {
    parts.push(plain('protection', wire.protectionA, wire.conductorLimitA));
    parts.push(plain('insulation', wire.highestInCableV, wire.insulationVoltageV));
  }
  return worst(parts);
}
