import { actuate } from '../src/circuit-checks/actuation.js';
import type { ActuationGroup, ActuationInput } from '../src/circuit-checks/actuation.types.js';
import { toOilVolumes } from '../src/circuit-checks/oil-volumes.js';
import { clampSequence } from '../src/filling/clamp-sequence.js';
import { runCircuit } from '../src/filling/run-circuit.js';
import { oilViscosity } from '../src/oil/oil-viscosity.js';
import { anActuation } from './proof-builder.js';

const [clamps, support] = anActuation().groups as [ActuationGroup, ActuationGroup];
const only = (...groups: ActuationGroup[]): ActuationInput => anActuation({ groups });
const loss = (nu: number, lengthM: number, diameterM: number): number =>
  (128 * nu * 870 * lengthM) / (Math.PI * diameterM ** 4);

describe('how the cylinders of a circuit move', () => {
  test('clamping is the transient of clamp-sequence with the lines of the circuit', () => {
    const input = { ...only(clamps), returnPressurePa: 0 };
    const { kinematicViscosityM2PerS: nu } = oilViscosity({
      viscosityIndex: 0,
      kinematicAt40M2PerS: 32e-6,
      kinematicAt100M2PerS: 5.4e-6,
      temperatureK: 313.15,
    });
    const valve = 4e5 / 1e-4;
    const area = (Math.PI * 0.006 ** 2) / 4;
    const sequence = clampSequence({
      pump: { freeFlowM3PerS: 2e-5, stallPressurePa: 2e7 },
      supplyResistancePaSPerM3: loss(nu, 1.5 + 3, 0.006) + valve,
      returnResistancePaSPerM3: loss(nu, 3, 0.006) + loss(nu, 1.5, 0.008) + valve,
      lineVolumeM3: 3 * area,
      // One metre of three is hose: a third of its compliance.
      oil: { bulkModulusPa: 1.5e9, airFraction: 0.005, polytropic: 1.4, hoseModulusPa: 3.6e9 },
      cylinders: [
        {
          count: 2,
          boreM: 0.025,
          rodM: 0.012,
          strokeM: 0.012,
          frictionN: 60,
          viscousFrictionNsPerM: 400,
          contactStiffnessNPerM: 4e7,
        },
      ],
      switchRisingPa: 152e5,
      switchAt: 'manifold',
      startPressurePa: 0,
      maximumTimeS: 600,
    });
    const { warm } = actuate(input);
    expect(warm?.timeToContactS).toBeCloseTo(Number(sequence.timeToContactS), 6);
    expect(warm?.timeToSwitchS).toBeCloseTo(Number(sequence.timeToSwitchS), 6);
  });

  test('a rod of no thickness unclamps as it clamps, through the same lines the other way', () => {
    const lines = { ...anActuation().lines, clamp: anActuation().lines.unclamp };
    const input = { ...only({ ...clamps, rodM: 0 }), lines };
    const { cold, unclampColdS } = actuate(input);
    expect(unclampColdS).toBeCloseTo(Number(cold?.timeToContactS), 9);
  });

  test('cold oil and low air are slower; the pump end of the line makes its switch earlier', () => {
    const { warm, cold } = actuate(anActuation());
    expect(Number(cold?.timeToSwitchS)).toBeGreaterThan(Number(warm?.timeToSwitchS));
    expect(Number(cold?.timeToContactS)).toBeGreaterThan(Number(warm?.timeToContactS));
    const atPump = actuate(anActuation({ switchAt: 'pump' }));
    expect(Number(atPump.warm?.timeToSwitchS)).toBeLessThan(Number(warm?.timeToSwitchS));
    // A line so narrow that the pump's end is at the set point as soon as it runs.
    const narrow = [{ ...anActuation().lines.supply[0]!, innerDiameterM: 0.0005, lengthM: 9 }];
    const throttled = actuate(anActuation({ switchAt: 'pump', lines: { ...anActuation().lines, supply: narrow } }));
    expect(throttled.warm?.timeToSwitchS).toBe(0);
  });

  test('a spring pushes back against the return line: speed by the balance of forces', () => {
    const input = only(support);
    const { unclampColdS } = actuate(input);
    const { kinematicViscosityM2PerS: nu } = oilViscosity({
      viscosityIndex: 0,
      kinematicAt40M2PerS: 32e-6,
      kinematicAt100M2PerS: 5.4e-6,
      temperatureK: 283.15,
    });
    const area = (Math.PI * 0.016 ** 2) / 4;
    const back = loss(nu, 3, 0.006) + loss(nu, 1.5, 0.008) + 4e9;
    // v·c = F − p₀·A − R·A²·v
    const speed = (90 - 1e5 * area) / (300 + back * area ** 2);
    expect(unclampColdS).toBeCloseTo(0.006 / speed, 9);
    const noLine = actuate({ ...input, lines: { ...input.lines, unclamp: [] } });
    expect(noLine.unclampMissing).toEqual([]);
  });

  test('what does not move never arrives', () => {
    const { stallPressurePa } = anActuation().pump;
    expect(actuate(anActuation({ switchRisingPa: stallPressurePa })).warm?.timeToSwitchS).toBe('never');
    const stuck = actuate(only({ ...clamps, frictionN: 1e5 }));
    expect(stuck.warm).toMatchObject({ timeToContactS: 'never', pressureAtFirstContactPa: null });
    expect(stuck.unclampColdS).toBe('never');
    expect(actuate(only({ ...support, springForceN: 10 })).unclampColdS).toBe('never');
    expect(actuate(only({ ...support, springForceN: 10, strokeM: 0 })).unclampColdS).toBe(0);
    const two = actuate(only({ ...support, springForceN: 10 }, support));
    expect(two.unclampColdS).toBe('never');
  });

  test('the pressure at the first contact of a clamp, and the most flow that a cylinder takes', () => {
    const { warm } = actuate(anActuation());
    expect(Number(warm?.pressureAtFirstContactPa)).toBeGreaterThan(0);
    expect(Number(warm?.pressureAtFirstContactPa)).toBeLessThan(152e5);
    const [swing] = warm?.peakFlowsM3PerS ?? [];
    // Two of them share what the pump gives.
    expect(Number(swing)).toBeGreaterThan(0.5e-5);
    expect(Number(swing)).toBeLessThan(1.2e-5);
    expect(actuate(only(support)).warm?.pressureAtFirstContactPa).toBeNull();
    const later = { ...clamps, strokeM: 0.02 };
    const [clampsFirst, other] = [actuate(only(clamps, later)), actuate(only(later, clamps))];
    expect(clampsFirst.warm?.pressureAtFirstContactPa).toBeCloseTo(Number(other.warm?.pressureAtFirstContactPa), 0);
  });

  test('what is missing is named by figure and component, and nothing is put in its place', () => {
    const fieldsOf = (input: ActuationInput): string[] => actuate(input).clampMissing.map(({ field }) => field);
    expect(fieldsOf(only({ ...clamps, acting: null, strokeM: null }))).toEqual(['acting', 'strokeM']);
    expect(fieldsOf(only({ ...clamps, rodM: 0.025 }))).toEqual(['rodM']);
    expect(fieldsOf(only({ ...clamps, viscousFrictionNsPerM: 0 }))).toEqual(['viscousFrictionNsPerM']);
    expect(fieldsOf(only({ ...support, springForceN: null }))).toEqual(['springForceN']);
    expect(fieldsOf(only())).toEqual(['groups']);
    expect(fieldsOf(anActuation({ valve: null, switchAt: null, switchRisingPa: null }))).toEqual([
      'directionalValve',
      'setPointPa',
      'switchAt',
    ]);
    const { oil, lines } = anActuation();
    expect(fieldsOf(anActuation({ oil: { ...oil, viscosityAt100M2PerS: 33e-6 } }))).toEqual(['viscosityAt100M2PerS']);
    expect(fieldsOf(anActuation({ oil: { ...oil, coldTemperatureK: 12 } }))).toEqual(['coldTemperatureK']);
    const noHose = lines.clamp.map((one) => ({ ...one, expansionModulusPa: null }));
    expect(actuate(anActuation({ lines: { ...lines, clamp: noHose, tank: [] } }))).toMatchObject({
      warm: null,
      cold: null,
      unclampColdS: null,
      clampMissing: [{ field: 'expansionModulusPa', ref: { name: 'hose A' } }, { field: 'tankLine' }],
    });
    // Unclamping asks for nothing of the switch.
    const unset = actuate(anActuation({ switchRisingPa: null }));
    expect(unset.warm).toBeNull();
    expect(typeof unset.unclampColdS).toBe('number');
  });

  test('figures that no circuit has are not followed, and say so', () => {
    const { warm, unclampColdS, clampMissing } = actuate(only({ ...clamps, strokeM: 1e-300 }));
    expect({ warm, unclampColdS, clampMissing }).toEqual({ warm: null, unclampColdS: null, clampMissing: [] });
    const circuit = {
      freeFlowM3PerS: 2e-5,
      stallPressurePa: 2e7,
      supplyResistance: 1e10,
      returnResistance: 1e9,
      lineVolumeM3: 1e-4,
      oilModulusPa: 1.5e9,
      airFraction: 0,
      polytropic: 1.4,
      hoseCompliance: 0,
      groups: [],
    };
    const mark = { pressurePa: 1e7, timeS: null };
    expect(runCircuit(circuit, 0, 600, [mark], { mostSteps: 3 })).toBeNull();
    expect(runCircuit(circuit, 0, 600, [mark])?.pumpedAt(0)).toBe(0);
  });
});

describe('oil that a circuit takes', () => {
  const volumesOf = (input: ActuationInput, pressurePa: number | null = 2e7) => toOilVolumes(input, pressurePa);

  test('strokes and what compression adds; back come the rods’ and the sprung cylinders’ share', () => {
    const { oil } = anActuation();
    const stiff = anActuation({ oil: { ...oil, airFraction: 0 } });
    const noHose = { ...stiff, lines: { ...stiff.lines, clamp: stiff.lines.unclamp } };
    const strokes = 2 * (Math.PI / 4) * 0.025 ** 2 * 0.012 + (Math.PI / 4) * 0.016 ** 2 * 0.006;
    const back = 2 * (Math.PI / 4) * 0.012 ** 2 * 0.012 + (Math.PI / 4) * 0.016 ** 2 * 0.006;
    const volume = strokes + 3 * (Math.PI / 4) * 0.006 ** 2;
    const added = volume * (Math.exp(2e7 / 1.5e9) - 1);
    const found = volumesOf(noHose);
    expect(found.clampVolumeM3).toBeCloseTo(strokes + added, 15);
    expect(found.returnVolumeM3).toBeCloseTo(back + added, 15);
    // A hose widens, air gives way: both take more.
    expect(Number(volumesOf(stiff).clampVolumeM3)).toBeGreaterThan(strokes + added);
    expect(Number(volumesOf(anActuation()).clampVolumeM3)).toBeGreaterThan(Number(volumesOf(stiff).clampVolumeM3));
  });

  test('what is missing is named', () => {
    expect(volumesOf(anActuation(), null).missing).toEqual([{ field: 'stallPressurePa', ref: null }]);
    expect(volumesOf(only({ ...clamps, acting: null, rodM: 0.03 })).missing.map(({ field }) => field)).toEqual([
      'acting',
      'rodM',
    ]);
    expect(volumesOf(only())).toMatchObject({ clampVolumeM3: null, missing: [{ field: 'groups' }] });
  });
});
