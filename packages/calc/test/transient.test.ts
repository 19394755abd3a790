import { actuate } from '../src/circuit-checks/actuation.js';
import type { ActuationGroup, ActuationInput, LineFitting } from '../src/circuit-checks/actuation.types.js';
import { clampSequence } from '../src/filling/clamp-sequence.js';
import type { ComponentFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT, READINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';
import { ref } from './pressure-ladder-builder.js';
import { toViscosityAt } from '../src/oil/oil-viscosity.js';
import { followPlainly, letDownPlainly } from './proof/plain-transient.js';
import { anActuation } from './proof-builder.js';

const [clamps, support] = anActuation().groups as [ActuationGroup, ActuationGroup];
const fromFacts = (change: Partial<ActuationInput> = {}): ActuationInput =>
  anActuation({ isFromFacts: true, ...change });
const only = (group: ActuationGroup, change: Partial<ActuationInput> = {}): ActuationInput =>
  fromFacts({ groups: [group], ...change });
const loss = (nu: number, lengthM: number, diameterM: number): number =>
  (128 * nu * 870 * lengthM) / (Math.PI * diameterM ** 4);
/** Oil of grade 32 at 40 °C, its working temperature. */
const NU = 32e-6;
const VALVE = 4e5 / 1e-4;
const area = (diameterM: number): number => (Math.PI / 4) * diameterM ** 2;

describe('pressures of their own', () => {
  const flowAt = (cylinderPa: number): number => {
    const perFlow = 2e7 / 2e-5 + loss(NU, 1.5, 0.006) + VALVE + loss(NU, 3, 0.006);
    return (2e7 - cylinderPa) / perFlow;
  };

  test('pump, manifold, line and cylinders differ by the losses between them', () => {
    const at = actuate(fromFacts()).warm?.atSwitch;
    if (at == null) throw new Error('the switch does not make');
    const flow = flowAt(at.cylinderPa);
    expect(at.manifoldPa).toBeCloseTo(152e5, 3);
    expect(at.pumpPa - at.manifoldPa).toBeCloseTo(flow * loss(NU, 1.5, 0.006), 3);
    expect(at.manifoldPa - at.linePa).toBeCloseTo(flow * VALVE, 3);
    expect(at.linePa - at.cylinderPa).toBeCloseTo(flow * loss(NU, 3, 0.006), 3);
  });

  test('a switch makes by the pressure where it senses: at the pump before the manifold, and there before the clamps', () => {
    const timeOf = (switchAt: ActuationInput['switchAt']) => {
      const { timeToSwitchS, soonestSwitchS } = actuate(fromFacts({ switchAt })).cold ?? {};
      return { timeToSwitchS: Number(timeToSwitchS), soonestSwitchS: Number(soonestSwitchS) };
    };
    const [pump, manifold, line] = [timeOf('pump'), timeOf('manifold'), timeOf('clamp-line')];
    expect(pump.timeToSwitchS).toBeLessThan(manifold.timeToSwitchS);
    expect(manifold.timeToSwitchS).toBeLessThan(line.soonestSwitchS);
    // In the clamp line it may sit at either end.
    expect(line.soonestSwitchS).toBeLessThan(line.timeToSwitchS);
    expect(manifold.soonestSwitchS).toBe(manifold.timeToSwitchS);
  });

  test('the moment is that of clamp-sequence at the pressure that the cylinders then have', () => {
    const { atSwitch, timeToSwitchS } = actuate(only(clamps, { returnPressurePa: 0 })).warm ?? {};
    const sequence = clampSequence({
      pump: { freeFlowM3PerS: 2e-5, stallPressurePa: 2e7 },
      supplyResistancePaSPerM3: loss(NU, 4.5, 0.006) + VALVE,
      returnResistancePaSPerM3: loss(NU, 3, 0.006) + loss(NU, 1.5, 0.008) + VALVE,
      lineVolumeM3: 3 * area(0.006),
      oil: { bulkModulusPa: 1.5e9, airFraction: 0.005, polytropic: 1.4, hoseModulusPa: 3.6e9 },
      cylinders: [{ ...clamps, boreM: 0.025, rodM: 0.012, strokeM: 0.012, frictionN: 60, viscousFrictionNsPerM: 400, contactStiffnessNPerM: 4e7 }], // prettier-ignore
      switchRisingPa: Number(atSwitch?.cylinderPa),
      switchAt: 'manifold',
      startPressurePa: 0,
      maximumTimeS: 600,
    });
    // The line behind lets down in the first hundredths of a second, of which clamp-sequence knows nothing.
    expect(timeToSwitchS).toBeCloseTo(Number(sequence.timeToSwitchS), 3);
    expect(timeToSwitchS).toBeGreaterThan(Number(sequence.timeToSwitchS));
  });

  test('a switch that the losses make at once, and one that is never reached', () => {
    const narrow = [{ ...anActuation().lines.supply[0]!, innerDiameterM: 0.0005, lengthM: 9 }];
    const throttled = fromFacts({ switchAt: 'pump', lines: { ...anActuation().lines, supply: narrow } });
    expect(actuate(throttled).warm).toMatchObject({ timeToSwitchS: 0, atSwitch: { cylinderPa: 0 } });
    const high = actuate(fromFacts({ switchRisingPa: 2e7 })).warm;
    expect(high).toMatchObject({ timeToSwitchS: 'never', soonestSwitchS: 'never', atSwitch: null });
    // The cold pump stalls at 190 bar: the beginning of the line never gets there, nor do the cylinders.
    expect(actuate(fromFacts({ switchAt: 'clamp-line', switchRisingPa: 19.5e6 })).cold?.soonestSwitchS).toBe('never');
  });

  test('are told beside check 5', () => {
    const check = checkOf(aCircuit(), 'clamping-time');
    expect(Number(check?.parameters.pumpPa)).toBeGreaterThan(Number(check?.parameters.manifoldPa));
    expect(Number(check?.parameters.linePa)).toBeGreaterThan(Number(check?.parameters.cylinderPa));
    expect(checkOf(aCircuit({ fixture: null }), 'clamping-time')?.parameters).toEqual({});
  });
});

describe('clamps that pull', () => {
  const pulling = { ...clamps, pulls: true };

  test('clamp by the annulus as others unclamp, and unclamp by the piston', () => {
    const { lines } = anActuation();
    const swapped = { ...lines, clamp: lines.unclamp, unclamp: lines.clamp };
    // But for what clamps were bent by at the workpiece, which springs back as they open.
    expect(actuate(only(pulling)).cold?.timeToContactS).toBeCloseTo(
      Number(actuate(only(clamps, { lines: swapped })).unclampColdS),
      3,
    );
    expect(actuate(only(pulling)).unclampColdS).toBeCloseTo(
      Number(actuate(only(clamps, { lines: swapped })).cold?.timeToContactS),
      3,
    );
  });

  test('take the oil of their annulus', () => {
    const peak = (group: ActuationGroup) => Number(actuate(only(group)).warm?.timeToContactS);
    const share = (area(0.025) - area(0.012)) / area(0.025);
    expect(peak(pulling) / peak(clamps)).toBeGreaterThan(share);
    expect(peak(pulling) / peak(clamps)).toBeLessThan(share + 0.05);
  });

  test('unknown whether they pull: no time is told, what kind they are is asked for', () => {
    const unknown = actuate(only({ ...clamps, pulls: null }));
    expect([unknown.warm, unknown.cold, unknown.unclampColdS]).toEqual([null, null, null]);
    for (const missing of [unknown.clampMissing, unknown.unclampMissing]) {
      expect(missing.map(({ field }) => field)).toEqual(['form']);
    }
  });

  test('with a spring: oil on the annulus, and on the whole bore where the rod is not known', () => {
    const sprung: ActuationGroup = { ...pulling, acting: 'single', springForceN: 200, springForceAtContactN: 200 };
    const unclampTime = (change: Partial<ActuationGroup>) =>
      Number(actuate(only({ ...sprung, ...change })).unclampColdS);
    expect(unclampTime({})).toBeLessThan(unclampTime({ rodM: null }));
    expect(unclampTime({ rodM: null })).toBe(unclampTime({ pulls: false }));
    expect(unclampTime({ rodM: 0.03 })).toBe(unclampTime({ pulls: false }));
    expect(actuate(only({ ...sprung, boreM: null })).clampMissing.map(({ field }) => field)).toEqual(['boreM']);
  });

  test('a swing clamp of a circuit does, a lever clamp does not: less oil, sooner', () => {
    const readings = { ...READINGS, clampTimeS: null, contactTimeS: null };
    const noTimes = { inUse: aCircuit().settings.inUse, isAsLeft: true, readings };
    const timeOf = (form: 'swing-clamp' | 'lever-clamp') =>
      Number(
        checkOf(
          aCircuit({ settings: noTimes, fixture: aFixture({ elements: [{ ...ELEMENT, form }] }) }),
          'clamping-time',
        )?.numbers?.nominal?.demand,
      );
    expect(timeOf('swing-clamp')).toBeLessThan(0.9 * timeOf('lever-clamp'));
  });
});

describe('what stands in the lines', () => {
  test('of a circuit: its flow control, its fitting, its sequence valve', () => {
    const component = (kind: ComponentFacts['kind'], figures: Record<string, number>): ComponentFacts => ({
      ...{ id: kind, place: 'circuit', kind, name: kind, lineFunctions: ['clamp'], sensing: null, figures },
    });
    const readings = { ...READINGS, clampTimeS: null, contactTimeS: null };
    const settings = { ...aCircuit().settings, readings };
    const timeWith = (...more: ComponentFacts[]) =>
      Number(
        checkOf(aCircuit({ settings, components: [...COMPONENTS, ...more] }), 'clamping-time')?.numbers?.nominal
          ?.demand,
      );
    const plain = timeWith();
    expect(timeWith(component('flow-control-valve', { flowToCylinders: 1e-5, flowFromCylinders: 1 }))).toBeGreaterThan(
      3 * plain,
    );
    expect(timeWith(component('fitting', { lossCoefficient: 200, innerDiameter: 0.002 }))).toBeGreaterThan(plain);
    const usual = checkOf(aCircuit({ settings, components: [...COMPONENTS, component('fitting', {})] }), 'unclamping');
    expect(usual?.parameters).toEqual({ usualFittings: 1 });
    expect(timeWith(component('sequence-valve', { openingPressure: 120e5 }))).toBeGreaterThan(plain);
    const late = { settings, components: [...COMPONENTS, component('sequence-valve', { openingPressure: 160e5 })] };
    expect(checkOf(aCircuit(late), 'clamping-time')).toMatchObject({
      status: 'fails',
      reason: 'switch-before-contact',
    });
    const unsaid = aCircuit({ settings, components: [...COMPONENTS, component('flow-control-valve', {})] });
    expect(checkOf(unsaid, 'clamping-time')?.missing).toContainEqual(
      expect.objectContaining({ field: 'toCylindersM3PerS' }),
    );
  });

  const sequenced = { ...clamps, pulls: true, isSequenced: true };
  const valveAt = (...pressuresPa: (number | null)[]) =>
    pressuresPa.map((openingPressurePa, index) => ({ ref: ref(`sequence ${index}`), openingPressurePa }));
  const control = (line: 'supply' | 'clamp' | 'unclamp' | 'tank', to: number | null, from: number | null) => ({
    ref: ref(`control in the ${line} line`),
    line,
    toCylindersM3PerS: to,
    fromCylindersM3PerS: from,
  });
  const LOTS = 1e-3;

  test('clamps behind a sequence valve stand still until it opens, and it holds the pressure before it', () => {
    const input = fromFacts({ groups: [sequenced, support], sequenceValves: valveAt(80e5) });
    const { warm } = actuate(input);
    expect(Number(warm?.pressureAtFirstContactPa)).toBeGreaterThan(80e5);
    expect(Number(warm?.pressureAtFirstContactPa)).toBeLessThan(81e5);
    expect(Number(warm?.timeToContactS)).toBeGreaterThan(
      Number(actuate({ ...input, sequenceValves: [] }).warm?.timeToContactS),
    );
    // Of several the last to open.
    const two = actuate({ ...input, sequenceValves: valveAt(80e5, 90e5) });
    expect(Number(two.warm?.pressureAtFirstContactPa)).toBeGreaterThan(90e5);
    expect(actuate({ ...input, sequenceValves: valveAt(null) }).clampMissing).toMatchObject([
      { field: 'openingPressurePa', ref: { name: 'sequence 0' } },
    ]);
    // A switch below it makes while the clamps have not moved.
    const early = actuate({ ...input, switchRisingPa: 70e5 }).warm;
    expect(Number(early?.timeToSwitchS)).toBeLessThan(Number(early?.timeToContactS));
  });

  test('a flow control gives the stroke its flow: towards the cylinders, and back from them', () => {
    const strokeM3 = 2 * area(0.025) * 0.012;
    const slow = 2e-6;
    const toClamps = actuate(only(clamps, { flowControls: [control('clamp', slow, LOTS)], isReturnFlowAsked: true }));
    expect(Number(toClamps.cold?.timeToContactS)).toBeCloseTo(strokeM3 / slow, 0);
    expect(Number(toClamps.cold?.timeToContactS)).toBeGreaterThan(strokeM3 / slow);
    expect(toClamps.flowsM3PerS?.[0]).toBeLessThanOrEqual((slow / 2) * 1.0001);
    // What is pushed out is held back: annulus while clamping, piston while unclamping.
    const annulus = strokeM3 * (1 - (0.012 / 0.025) ** 2);
    const back = actuate(only(clamps, { flowControls: [control('unclamp', LOTS, slow)] }));
    // What goes out last is pressed together more than what was there at first: 0.8 % of it stays.
    expect(Number(back.cold?.timeToContactS) / (annulus / slow)).toBeCloseTo(0.992, 2);
    const openingBy = only(clamps, { flowControls: [control('clamp', LOTS, slow), control('tank', LOTS, LOTS)] });
    const openingS = Number(actuate(openingBy).unclampColdS);
    const coldNu = toViscosityAt(32e-6, 5.4e-6, 283.15);
    // The stroke, and what the line and what clamps were bent by give back: worked out a second time.
    expect(openingS).toBeGreaterThan(strokeM3 / slow);
    expect(openingS / followPlainly(openingBy, coldNu, 'unclamp').contactS).toBeCloseTo(1, 2);
    const towards = actuate(only(clamps, { flowControls: [control('unclamp', slow, LOTS)] }));
    expect(Number(towards.unclampColdS) / (annulus / slow)).toBeCloseTo(1, 1);
    // Springs are held back by the same, once the line has let down.
    const throttled = only(support, { flowControls: [control('clamp', LOTS, 2e-7)] });
    const letDownS = letDownPlainly(throttled, toViscosityAt(32e-6, 5.4e-6, 283.15));
    expect(Number(actuate(throttled).unclampColdS)).toBeCloseTo((area(0.016) * 0.006) / 2e-7 + letDownS, 1);
  });

  test('a flow control before the manifold keeps what is behind it near the cylinders', () => {
    const throughControl = (switchAt: 'pump' | 'manifold', limit: number) =>
      actuate(fromFacts({ switchAt, flowControls: [control('supply', limit, LOTS)] })).warm;
    const at = throughControl('manifold', 1e-6)?.atSwitch;
    expect(Number(at?.manifoldPa)).toBeCloseTo(152e5, 3);
    expect(Number(at?.manifoldPa) - Number(at?.cylinderPa)).toBeCloseTo(1e-6 * (VALVE + loss(NU, 3, 0.006)), 3);
    expect(throughControl('pump', 1e-6)?.timeToSwitchS).toBe(0);
    expect(throughControl('manifold', LOTS)?.timeToSwitchS).toBeCloseTo(
      Number(actuate(fromFacts()).warm?.timeToSwitchS),
      9,
    );
  });

  test('a flow that nobody has said is asked for; in a line of springs only what is used', () => {
    const fieldsOf = (input: ActuationInput) => actuate(input).clampMissing.map(({ field }) => field);
    expect(fieldsOf(only(clamps, { flowControls: [control('clamp', null, null)] }))).toEqual([
      'toCylindersM3PerS',
      'fromCylindersM3PerS',
    ]);
    expect(fieldsOf(only(support, { flowControls: [control('unclamp', null, null)] }))).toEqual([]);
  });

  const fitting = (change: Partial<LineFitting>): ActuationInput => {
    const none: LineFitting[] = [];
    const elbow = {
      ref: ref('elbow'),
      lossCoefficient: null,
      equivalentLengthM: null,
      innerDiameterM: null,
      usualBores: 60,
    };
    return fromFacts({ fittings: { supply: [{ ...elbow, ...change }], clamp: none, unclamp: none, tank: none } });
  };
  const lengthened = (lengthM: number, innerDiameterM: number): ActuationInput => {
    const { lines } = anActuation();
    const more = { ...lines.supply[0]!, lengthM, innerDiameterM };
    return fromFacts({ lines: { ...lines, supply: [...lines.supply, more] } });
  };

  test('a fitting loses what its equivalent length does, and what is usual where nobody has said', () => {
    const typed = actuate(fitting({ equivalentLengthM: 2 }));
    expect(typed.warm?.atSwitch).toEqual(actuate(lengthened(2, 0.006)).warm?.atSwitch);
    expect(typed.usualFittings).toBe(0);
    const usual = actuate(fitting({}));
    expect(usual.usualFittings).toBe(1);
    const same = actuate(lengthened(60 * 0.006, 0.006)).warm?.atSwitch;
    expect(Number(usual.warm?.atSwitch?.pumpPa)).toBeCloseTo(Number(same?.pumpPa), 3);
    const ownBore = actuate(fitting({ innerDiameterM: 0.003 })).warm?.atSwitch;
    expect(Number(ownBore?.pumpPa)).toBeCloseTo(
      Number(actuate(lengthened(60 * 0.003, 0.003)).warm?.atSwitch?.pumpPa),
      3,
    );
  });

  test('a coefficient loses K·ρ·v²/2 at the free flow, and its laminar share', () => {
    const at = actuate(fitting({ lossCoefficient: 5, innerDiameterM: 0.004 })).warm?.atSwitch;
    if (at == null) throw new Error('the switch does not make');
    const speed = 2e-5 / area(0.004);
    const atFreeFlow = (5 * 870 * speed ** 2) / 2 + ((800 * NU) / (speed * 0.004)) * ((870 * speed ** 2) / 2);
    const flow = (at.manifoldPa - at.linePa) / VALVE;
    expect(at.pumpPa - at.manifoldPa).toBeCloseTo(flow * (loss(NU, 1.5, 0.006) + atFreeFlow / 2e-5), 2);
  });

  test('figures that no fitting has are asked for, and a line without a bore asks once', () => {
    const fieldsOf = (input: ActuationInput) => actuate(input).clampMissing.map(({ field }) => field);
    expect(fieldsOf(fitting({ lossCoefficient: -1, equivalentLengthM: -1, innerDiameterM: 0 }))).toEqual([
      'innerDiameterM',
      'lossCoefficient',
      'equivalentLengthM',
    ]);
    const { lines } = anActuation();
    const bare = { ...lines, supply: [{ ...lines.supply[0]!, innerDiameterM: null }] };
    expect(fieldsOf({ ...fitting({}), lines: bare })).toEqual(['innerDiameterM']);
  });

  test.each([
    ['pushing clamps and a support', fromFacts()],
    [
      'pulling clamps behind a sequence valve',
      fromFacts({ groups: [sequenced, support], sequenceValves: valveAt(80e5) }),
    ],
    ['held back on their way in', fromFacts({ groups: [sequenced, support], sequenceValves: valveAt(60e5), flowControls: [control('clamp', 6e-6, LOTS)] })], // prettier-ignore
    ['held back by what they push out', fromFacts({ groups: [{ ...clamps, pulls: true }, support], flowControls: [control('unclamp', LOTS, 5e-6)] })], // prettier-ignore
    ['with fittings and a narrow supply', { ...lengthened(20, 0.004), switchAt: 'clamp-line' as const }],
  ])('worked out a second time in small steps: %s', (_name, input) => {
    const { warm } = actuate(input);
    const plain = followPlainly(input, NU);
    // The plain steps are of the first order.
    expect(Math.abs(Number(warm?.timeToContactS) / plain.contactS - 1)).toBeLessThan(0.003);
    expect(Math.abs(Number(warm?.timeToSwitchS) / plain.switchS - 1)).toBeLessThan(0.003);
  });
});
