import { readFileSync } from 'node:fs';
import path from 'node:path';
import { clampSequence, type ClampSequenceInput } from '../src/filling/clamp-sequence.js';
import { calculate } from '../src/registry/registry.js';

interface Row {
  inputs: Record<string, unknown>;
  timeToFirstMotion: number | null;
  timeToSwitch: number | null;
  timeTo95: number | null;
  timeToContact: number | null;
  contacts: (number | null)[];
  radauEvaluations: number;
}
const { rows } = JSON.parse(readFileSync(path.join(import.meta.dirname, 'data/clamp-circuits.json'), 'utf8')) as {
  rows: Row[];
};
const seconds = (value: unknown): unknown => (value === null ? null : (value as { value: unknown }).value);

const CLAMPS = {
  count: 2,
  boreM: 0.025,
  rodM: 0.012,
  strokeM: 0.012,
  frictionN: 60,
  viscousFrictionNsPerM: 400,
  contactStiffnessNPerM: 4e7,
};

const aCircuit = (change: Partial<ClampSequenceInput> = {}): ClampSequenceInput => ({
  pump: { freeFlowM3PerS: 2e-5, stallPressurePa: 2e7 },
  supplyResistancePaSPerM3: 1.2e10,
  returnResistancePaSPerM3: 6e9,
  lineVolumeM3: 3e-4,
  oil: { bulkModulusPa: 1.5e9, airFraction: 0.005, polytropic: 1.4 },
  cylinders: [CLAMPS],
  switchRisingPa: 1.5e7,
  switchAt: 'manifold',
  startPressurePa: 0,
  maximumTimeS: 600,
  ...change,
});

test.each(rows.map((row, index) => [index, row] as const))(
  'circuit %i agrees with an independent stiff solver',
  (_index, row) => {
    const { result } = calculate('clamp-sequence', row.inputs);
    const pairs: [unknown, unknown][] = [
      [seconds(result?.timeToFirstMotion), row.timeToFirstMotion],
      [seconds(result?.timeToSwitch), row.timeToSwitch],
      [seconds(result?.timeTo95), row.timeTo95],
      [seconds(result?.timeToContact), row.timeToContact],
      ...(seconds(result?.contacts) as unknown[]).map((time, index): [unknown, unknown] => [time, row.contacts[index]]),
    ];
    for (const [mine, other] of pairs) {
      if (typeof mine === 'number' && typeof other === 'number')
        expect(Math.abs(mine - other)).toBeLessThanOrEqual(1e-4 * other);
      else expect(mine).toBe(other);
    }
  },
);

test('right-hand sides: at most three times those of SciPy Radau at the same tolerance', () => {
  const ratios = rows.map(({ inputs, radauEvaluations }) => {
    const { pump, ...rest } = inputs as unknown as { pump: Record<string, { value: number }> } & Record<
      string,
      { value: number }
    >;
    const cylinders = inputs.cylinders as Record<string, { value: number } & number>[];
    const oil = inputs.oil as Record<string, { value: number } & number>;
    const computed = clampSequence({
      pump: { freeFlowM3PerS: Number(pump.freeFlow?.value), stallPressurePa: Number(pump.stallPressure?.value) },
      supplyResistancePaSPerM3: Number(rest.supplyResistance?.value),
      returnResistancePaSPerM3: Number(rest.returnResistance?.value),
      lineVolumeM3: Number(rest.lineVolume?.value),
      oil: {
        bulkModulusPa: Number(oil.bulkModulus?.value),
        airFraction: Number(oil.airFraction),
        polytropic: Number(oil.polytropic),
        hoseModulusPa: oil.hoseModulus?.value,
      },
      cylinders: cylinders.map((group) => ({
        count: Number(group.count),
        boreM: Number(group.bore?.value),
        rodM: Number(group.rod?.value),
        strokeM: Number(group.stroke?.value),
        frictionN: Number(group.friction?.value),
        viscousFrictionNsPerM: Number(group.viscousFriction?.value),
        contactStiffnessNPerM: Number(group.contactStiffness?.value),
      })),
      switchRisingPa: Number(rest.switchRising?.value),
      switchAt: 'manifold',
      startPressurePa: Number(rest.startPressure?.value),
      maximumTimeS: 600,
    });
    return computed.evaluations / radauEvaluations;
  });
  expect(Math.max(...ratios)).toBeLessThanOrEqual(3);
});

test('oil is conserved: pumped = strokes + compression + springs', () => {
  const run = clampSequence(aCircuit({ oil: { bulkModulusPa: 1.5e9, airFraction: 0, polytropic: 1.4 } }));
  const area = (Math.PI * 0.025 ** 2) / 4;
  const strokes = 2 * area * 0.012;
  const contactIndex = run.series.tS.indexOf(Number(run.timeToContactS));
  const contactPa = Number(run.series.pPa[contactIndex]);
  const springs = ((2 * area ** 2) / 4e7) * (0.95 * 2e7 - contactPa);
  const compressed = ((3e-4 + strokes) * (0.95 * 2e7 - contactPa)) / 1.5e9 + (3e-4 * contactPa) / 1.5e9;
  // before contact the volume grows while the pressure rises a little: bounded by the stroke's share of it
  expect(Math.abs(Number(run.oilVolumeM3) - strokes - springs - compressed)).toBeLessThan(
    (strokes * contactPa) / 1.5e9 + 1e-9,
  );
});

describe('cases', () => {
  test('a switch at the pump makes before the clamps have arrived, and is told on', () => {
    const run = clampSequence(aCircuit({ switchAt: 'pump', switchRisingPa: 2e6, supplyResistancePaSPerM3: 1.2e12 }));
    expect(run.timeToSwitchS).toBe(0);
    expect(run.notes).toContainEqual({ code: 'switch-makes-before-contact' });
    const late = clampSequence(aCircuit({ switchAt: 'pump' }));
    expect(late.timeToSwitchS).toBeLessThan(Number(clampSequence(aCircuit()).timeToSwitchS));
    expect(late.timeToSwitchS).toBeGreaterThan(Number(late.timeToContactS));
  });

  test('what is never reached is null', () => {
    const stuck = clampSequence(aCircuit({ cylinders: [{ ...CLAMPS, frictionN: 1e6 }], switchRisingPa: 3e7 }));
    expect(stuck).toMatchObject({
      timeToFirstMotionS: null,
      timeToContactS: null,
      timeToSwitchS: null,
      oilVolumeM3: null,
      contactsS: [null],
    });
    expect(stuck.timeTo95S).toBeGreaterThan(0);
    expect(stuck.notes).toContainEqual({ code: 'switch-above-stall' });
    const dry = clampSequence(
      aCircuit({ pump: { freeFlowM3PerS: 0, stallPressurePa: 2e7, pistonRatio: 30, airPressurePa: 6e5 } }),
    );
    expect(dry).toMatchObject({ timeTo95S: null, airUsedM3: null });
    // A pump that gives no oil is not one that stalls below the switch.
    expect(dry.notes).toEqual([{ code: 'no-pump-flow' }]);
    const level = clampSequence(aCircuit({ switchRisingPa: 2e7 }));
    expect(level).toMatchObject({ timeToSwitchS: null, notes: [{ code: 'switch-above-stall' }] });
    expect(clampSequence(aCircuit({ maximumTimeS: 0.01 })).timeToContactS).toBeNull();
  });

  test('no stroke, and a start above everything', () => {
    const cylinders = [{ ...CLAMPS, strokeM: 0 }];
    expect(clampSequence(aCircuit({ cylinders }))).toMatchObject({ timeToContactS: 0, contactsS: [0] });
    const full = clampSequence(
      aCircuit({
        cylinders,
        startPressurePa: 2.5e7,
        pump: { freeFlowM3PerS: 2e-5, stallPressurePa: 2e7, pistonRatio: 30, airPressurePa: 6e5 },
      }),
    );
    expect(full).toMatchObject({
      timeToFirstMotionS: 0,
      timeTo95S: 0,
      timeToSwitchS: null,
      oilVolumeM3: 0,
      airUsedM3: 0,
    });
  });

  test('lines instead of resistances', () => {
    const line = { lengthM: 3, innerDiameterM: 0.008 };
    const oil = { ...aCircuit().oil, kinematicViscosityM2PerS: 46e-6, densityKgPerM3: 870 };
    const resistance = (128 * 46e-6 * 870 * 3) / (Math.PI * 0.008 ** 4);
    const byLine = clampSequence(
      aCircuit({
        oil,
        supplyResistancePaSPerM3: undefined,
        supplyLine: line,
        returnResistancePaSPerM3: undefined,
        returnLine: line,
      }),
    );
    const byNumber = clampSequence(
      aCircuit({ supplyResistancePaSPerM3: resistance, returnResistancePaSPerM3: resistance }),
    );
    expect(byLine.timeTo95S).toBeCloseTo(Number(byNumber.timeTo95S), 9);
    const without = (change: Partial<ClampSequenceInput>) => () =>
      clampSequence(aCircuit({ supplyResistancePaSPerM3: undefined, ...change }));
    expect(without({})).toThrow('a resistance or a line');
    expect(without({ supplyLine: line })).toThrow('a viscosity');
    expect(without({ supplyLine: line, oil: { ...aCircuit().oil, kinematicViscosityM2PerS: 46e-6 } })).toThrow(
      'a density',
    );
    expect(() => clampSequence(aCircuit({ cylinders: [] }))).toThrow('at least one group');
  });
});
