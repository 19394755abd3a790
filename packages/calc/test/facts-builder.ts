import type {
  CircuitFacts,
  ComponentFacts,
  ControlFacts,
  FixtureElementFacts,
  FixtureFacts,
  NeighbourFacts,
  ReadingFacts,
  SettingsFacts,
} from '../src/circuit-facts/circuit-facts.types.js';
import { SOUND_MACHINE } from './proof-builder.js';
import {
  component,
  withOpeningTolerances,
  withPad,
  withBursts,
  withReliefs,
  withReseats,
  withBothLines,
  withWarming,
  withUnplaced,
  withChanges,
  withLocatorLimit,
  withConditions,
  withComputed,
} from './random-parts.js';

const TUBE = { ratedPressure: 300e5, outerDiameter: 0.012, wall: 0.0015 };
const HOSE = { ratedPressure: 275e5, innerDiameter: 0.006, length: 2, expansionModulus: 1.4e9 };
/** What age and bend leave of some hoses. */
const WORN = { ageDerating: 0.95, bendDerating: 0.97 };

/** Components of a circuit with two lines to the clamps, and of the air-driven power unit that feeds it: invented. */
export const COMPONENTS: readonly ComponentFacts[] = [
  component('hose', 'circuit', ['clamp'], HOSE),
  component('hose', 'circuit', ['unclamp'], HOSE),
  {
    ...component('pressure-switch', 'circuit', ['clamp'], { ratedPressure: 400e5, accuracy: 2e5, delay: 0.02 }),
    ...{ sensing: 'clamp-line', isBeyondShutOff: true },
  },
  component('directional-valve', 'circuit', ['supply', 'tank', 'clamp', 'unclamp'], {
    ...{ ratedPressure: 315e5, ratedFlow: 20 / 60_000, lossAtRatedFlow: 6e5 },
    ...{ coilPower: 30, coilVoltage: 24, coilTolerance: 0.1, coilDuty: 1 },
  }),
  component('pump', 'power-unit', ['supply'], {
    ...{ ratedPressure: 350e5, pistonRatio: 40, stallEfficiency: 0.98, freeFlow: 3.2 / 60_000 },
  }),
  component('relief-valve', 'power-unit', ['supply'], {
    ...{ ratedPressure: 350e5, openingPressure: 190e5, fullFlowPressure: 205e5 },
  }),
  component('tube', 'power-unit', ['supply', 'tank'], { ...TUBE, length: 2 }),
  component('reservoir', 'power-unit', ['tank'], { usableVolume: 0.005, freeVolume: 0.001 }),
  component('gauge', 'power-unit', ['supply'], { ratedPressure: 250e5, span: 250e5, accuracyClass: 1.6 }),
];

export const ELEMENT: FixtureElementFacts = {
  id: 'clamps',
  kind: 'clamp',
  name: 'Swing clamps',
  quantity: 4,
  form: 'swing-clamp',
  acting: 'double',
  ratedPressurePa: 250e5,
  leastWorkingPressurePa: null,
  ratedForceN: 4200,
  boreM: 0.025,
  rodM: 0.016,
  strokeM: 0.012,
  springForceN: null,
  springForceAtContactN: null,
  frictionN: 80,
  viscousFrictionNsPerM: 400,
  contactStiffnessNPerM: 2e7,
  highestFlowM3PerS: 2.5e-5,
  armPressurePa: 220e5,
  highestLoadN: null,
  pulls: null,
  ...{ padForm: null, padRadiusM: null, padLengthM: null, contactModulusPa: null, surfacePressureLimitPa: null },
};
export const SUPPORT: FixtureElementFacts = {
  ...ELEMENT,
  ...{ id: 'support', kind: 'support', name: 'Support', quantity: 1, form: null, acting: 'single' },
  ...{ boreM: 0.016, rodM: null, strokeM: 0.006, springForceN: 90, frictionN: 20, viscousFrictionNsPerM: 300 },
  ...{
    leastWorkingPressurePa: 40e5,
    ratedForceN: 7000,
    highestLoadN: 2000,
    highestFlowM3PerS: null,
    armPressurePa: null,
  },
};
export const aSupport = (change: Partial<FixtureElementFacts> = {}): FixtureElementFacts => ({ ...SUPPORT, ...change });
const LOCATOR: FixtureElementFacts = { ...SUPPORT, id: 'locator', kind: 'locator', name: 'Locator', acting: null };

export const aFixture = (change: Partial<FixtureFacts> = {}): FixtureFacts => ({
  id: 'fixture',
  name: 'F-1',
  ratedPressurePa: 210e5,
  elements: [ELEMENT, LOCATOR],
  ...change,
});

export const SETTINGS: SettingsFacts = {
  settingPa: 175e5,
  settingTolerancePa: 4e5,
  setPointPa: 150e5,
  resetPointPa: 142e5,
  airPressurePa: 4.5e5,
  pumpRestartPa: 160e5,
  pumpRestartTolerancePa: 3e5,
};
export const READINGS: ReadingFacts = {
  settingPa: 175e5,
  airPressurePa: 4.5e5,
  fixtureId: 'fixture',
  decayPa: 3e5,
  decayDurationS: 300,
  gaugeSpanPa: 250e5,
  gaugeClass: 1.6,
  lowestWhileSharedPa: 177e5,
  clampTimeS: 1.8,
  contactTimeS: 1.4,
  unclampTimeS: 1.5,
  timeToleranceS: 0.1,
  oilTemperatureK: 283.15,
};

/** Two coils and a switch, each with its wire; of the machine's second circuit as much. */
export function aControl(change: Partial<ControlFacts> = {}): ControlFacts {
  const ofCircuit = (circuitId: string, first: number) => {
    const coil = { direction: 'output', suppression: 'transient-suppressor', suppressionVoltageV: 33 } as const;
    const known = { circuitId, isPolarityRight: true, isHeldOn: true };
    const signals: ControlFacts['signals'] = [
      { id: `${circuitId} clamp`, name: `Y${first}`, actsOn: 'clamp-coil', ...coil, ...known },
      { id: `${circuitId} unclamp`, name: `Y${first + 1}`, actsOn: 'unclamp-coil', ...coil, ...known },
      {
        ...{ id: `${circuitId} switch`, name: `B${first}`, actsOn: 'none', direction: 'input', suppression: null },
        ...{ suppressionVoltageV: null, ...known },
      },
    ];
    const wires: ControlFacts['wires'] = signals.map(({ id }, index) => ({
      ...{ id: `${id} wire`, signalId: id, number: `${first}${index}`, crossSectionM2: 0.75e-6, lengthM: 12 },
      ...{ insulationVoltageV: 300, protectionA: 4, conductorLimitA: 7, highestInCableV: 24 },
    }));
    const stationId = `station of ${circuitId}`;
    const mCodes: ControlFacts['mCodes'] = [
      { id: `${circuitId} in`, stationId, code: `M${first}`, action: 'clamp', waitsForAnswer: true },
      { id: `${circuitId} out`, stationId, code: `M${first + 1}`, action: 'unclamp', waitsForAnswer: true },
    ];
    return { signals, wires, mCodes };
  };
  const [ownFigures, other] = [ofCircuit('circuit', 21), ofCircuit('other', 31)];
  const circuit = { valveBehaviour: 'double-detented', isCheckHeld: false, hasValve: true, coilPowerW: 30 } as const;
  return {
    machine: {
      ...{ id: 'machine', name: 'Machine 1', controlReactionS: 1.2, controlVoltageV: 24, supplyRatingW: 120 },
      ...{ supplyPeakW: 180, controlLoadW: 20, controlLoadPeakW: 30, supplyReserveRatio: 0.25 },
      ...{ controlTemperatureK: 313.15, hasSeparateCommons: true, outputRatingV: 60, behaviour: SOUND_MACHINE },
    },
    circuits: [
      { id: 'circuit', name: 'Station 1', stationId: 'station of circuit', ...circuit },
      { id: 'other', name: 'Station 2', stationId: 'station of other', ...circuit },
    ],
    signals: [...ownFigures.signals, ...other.signals],
    wires: [...ownFigures.wires, ...other.wires],
    mCodes: [...ownFigures.mCodes, ...other.mCodes],
    ...change,
  };
}

export const aNeighbour = (change: Partial<NeighbourFacts> = {}): NeighbourFacts => ({
  id: 'other',
  name: 'Station 2',
  fixture: aFixture({ id: 'fixture 2', name: 'F-2', elements: [ELEMENT] }),
  components: COMPONENTS.filter(({ place }) => place === 'circuit'),
  ...change,
});

/** A circuit that holds in every check, beside another one of its power unit: invented. */
export const aCircuit = (change: Partial<CircuitFacts> = {}): CircuitFacts => ({
  circuit: {
    ...{ id: 'circuit', name: 'Station 1', stationId: 'station of circuit', hasReducingValve: false, canTrap: false },
    ...{ trappedTemperatureRiseK: 0, trappedNetExpansionPerK: null, trappedBulkModulusPa: null },
    ...{ unclampBulkModulusPa: null, reducingValveRelieves: null },
    ...{
      unclampLineCanBlock: false,
      isCheckHeld: false,
      isDecoupled: false,
      timeWithoutSupplyS: null,
      coolingWithoutSupplyK: null,
    },
    ...{ isProvedAgain: null, clampTimeAllowedS: 3, unclampTimeAllowedS: 6, needsOpenProof: false, hasOpenProof: null },
    returnPressurePa: 2e5,
  },
  powerUnit: {
    ...{ drive: 'air', plantAirLowPa: 4.7e5, plantAirHighPa: 5.1e5, oilViscosityAt40M2PerS: 32e-6 },
    ...{ oilViscosityAt100M2PerS: 5.4e-6, oilDensityKgPerM3: 870, oilBulkModulusPa: 1.5e9, oilAirFraction: 0.005 },
    ...{ coldOilTemperatureK: 283.15, workingOilTemperatureK: 313.15, gaugeOffReferenceK: null },
  },
  components: COMPONENTS,
  fixture: aFixture(),
  operations: [
    {
      ...{ id: 'operation', number: 10, name: 'Rough face', requiredPressurePa: 118e5, requiredBasis: 'typed' },
      ...{ workpieceLimitPa: null, workpieceNotLimiting: true },
    },
  ],
  settings: { inUse: SETTINGS, isAsLeft: true, readings: READINGS },
  neighbours: [aNeighbour()],
  control: aControl(),
  leastProbability: 0.95,
  marginsAsked: {
    ...{ 'holds-workpiece': 0.03, 'no-nuisance-stop': 0.02, 'setting-within-rating': 0.03, 'highest-within-rating': 0 },
    ...{ 'workpiece-limit': 0.02, 'clamping-time': 0, unclamping: 0, 'shared-supply': 0, 'holds-without-supply': 0 },
    ...{ 'order-and-speed': 0, reservoir: 0 },
  },
  ...change,
});

/** Seeded numbers between 0 and 1: Mulberry32, a generator in the public domain. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Any part of a value changed at random: numbers by up to a third, a few of them unknown, answers turned round. */
function shake<T>(value: T, random: () => number, unknown: number): T {
  if (typeof value === 'number') {
    if (random() < unknown) return null as T;
    return (value * (0.8 + 0.4 * random())) as T;
  }
  if (typeof value === 'boolean') return (random() < unknown ? null : random() < 0.1 ? !value : value) as T;
  if (Array.isArray(value)) return value.map((item) => shake(item as unknown, random, unknown)) as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, part]) => [name, shake(part as unknown, random, unknown)]),
  ) as T;
}

/** A circuit made from a seed: of every kind that there is, mostly known, sometimes sound. */
/** Every reaction of a control, the best of each first. */
const REACTIONS = {
  onPressureLoss: ['stop', 'feed-hold', 'alarm-only', 'nothing'],
  unclampBlockedWhile: ['turning', 'cutting', 'never'],
  onEmergencyStop: ['keep', 'drop'],
  onReset: ['keep', 'drop', 'unclamp'],
  onPowerReturn: ['keep', 'drop'],
  onAirLow: ['stop', 'nothing'],
  airReturn: ['by-hand', 'at-once'],
} as const;
/** One in four differs from the sound machine in a reaction. */
function someBehaviour(random: () => number): ControlFacts['machine']['behaviour'] {
  if (random() > 0.25) return SOUND_MACHINE;
  const names = Object.keys(SOUND_MACHINE) as (keyof typeof SOUND_MACHINE)[];
  const name = names[Math.floor(random() * names.length)] ?? 'onReset';
  const choices: readonly unknown[] = name in REACTIONS ? REACTIONS[name as keyof typeof REACTIONS] : [true, false];
  return { ...SOUND_MACHINE, [name]: choices[Math.floor(random() * choices.length)] };
}

/** Of some nobody has said what the directional valve does, or it springs to the middle. Drawn apart from all else of the circuit. */
function withValve({ circuit: { id }, control }: CircuitFacts, random: () => number): ControlFacts {
  const drawn = random();
  if (drawn > 0.06) return control;
  const valveBehaviour = drawn < 0.03 ? null : 'double-centred';
  return { ...control, circuits: control.circuits.map((one) => (one.id === id ? { ...one, valveBehaviour } : one)) };
}

export function aRandomCircuit(seed: number): CircuitFacts {
  const random = seeded(seed);
  const pick = <T>(...choices: readonly T[]): T => choices[Math.floor(random() * choices.length)] as T;
  const unknown = pick(0, 0, 0.01, 0.05);
  const shaken = <T>(value: T): T => shake(value, random, unknown);
  const single: FixtureElementFacts = {
    ...ELEMENT,
    form: 'lever-clamp',
    acting: 'single',
    springForceN: 300,
    springForceAtContactN: 420,
  };
  const elements = (): FixtureElementFacts[] =>
    pick<FixtureElementFacts[]>([ELEMENT], [ELEMENT, LOCATOR], [SUPPORT, ELEMENT], [single]).map((element) => ({
      ...shaken(element),
      quantity: 1 + Math.floor(4 * random()),
    }));
  const extra: readonly ComponentFacts[] = [
    component('sequence-valve', 'circuit', ['clamp'], {
      ratedPressure: 300e5,
      openingPressure: 60e5,
      leastWorkingPressure: 60e5,
    }),
    component('flow-control-valve', 'circuit', ['clamp'], {
      ...{ ratedPressure: 300e5, flowToCylinders: 4e-5, flowFromCylinders: 1e-4 },
    }),
    component('fitting', 'circuit', ['clamp', 'unclamp'], { ratedPressure: 300e5, lossCoefficient: 1.5 }),
    component('work-support', 'circuit', ['clamp'], {
      ...{ ratedPressure: 300e5, leastWorkingPressure: 40e5, loadCapacity: 8000, highestLoad: 2500, bore: 0.016 },
      ...{ stroke: 0.006, friction: 20, viscousFriction: 300, contactStiffness: 2e7, springForce: 90 },
    }),
    component('swing-clamp', 'circuit', ['clamp', 'unclamp'], {
      ...{ ratedPressure: 250e5, ratedForce: 4000, bore: 0.025, rod: 0.016, stroke: 0.012, friction: 60 },
      ...{ viscousFriction: 400, contactStiffness: 2e7, highestFlow: 2.5e-5, armPressure: 230e5 },
    }),
  ];
  const isWorn = random() < 0.3;
  const components = [...COMPONENTS, ...extra.filter(() => random() < 0.3)]
    .filter(() => random() > 0.02)
    .map((part) => {
      const stated = part.kind === 'hose' && isWorn ? { ...part.figures, ...WORN } : part.figures;
      const figures = Object.entries(shaken(stated)).filter(([, value]) => value !== null);
      const sensing =
        part.kind === 'pressure-switch' ? pick('pump' as const, 'manifold' as const, 'clamp-line' as const) : null;
      return { ...part, sensing, figures: Object.fromEntries(figures) };
    });
  const basis = aCircuit();
  const canTrap = random() < 0.4;
  const trapped = { trappedTemperatureRiseK: 20, trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8 };
  const without = {
    isDecoupled: true,
    timeWithoutSupplyS: 600,
    coolingWithoutSupplyK: 3,
    isProvedAgain: random() < 0.8,
  };
  const isAsLeft = random() < 0.7;
  const inUse = shaken(SETTINGS);
  const readings =
    random() < 0.8
      ? { ...shaken(READINGS), settingPa: random() < 0.7 ? inUse.settingPa : 170e5, airPressurePa: inUse.airPressurePa }
      : null;
  const facts: CircuitFacts = {
    circuit: {
      ...shaken({ ...basis.circuit, trappedTemperatureRiseK: null }),
      ...{ hasReducingValve: random() < 0.2, canTrap, ...(canTrap ? shaken(trapped) : {}) },
      ...(random() < 0.3 ? shaken(without) : {}),
    },
    powerUnit: { ...shaken(basis.powerUnit), drive: pick('air', 'air', 'electric') },
    components,
    fixture: random() < 0.95 ? { ...shaken(aFixture()), elements: elements() } : null,
    operations: [10, 20].slice(0, pick(1, 2)).map((number) => ({
      ...{ id: `operation ${number}`, number, name: 'Cut', requiredBasis: pick('typed', 'computed') },
      ...{ requiredPressurePa: shaken(number === 10 ? 118e5 : 105e5), workpieceLimitPa: shaken(240e5) },
      workpieceNotLimiting: random() < 0.5,
    })),
    settings: { inUse: random() < 0.97 ? inUse : null, isAsLeft: isAsLeft && readings !== null, readings },
    neighbours: random() < 0.5 ? [] : [{ ...aNeighbour(), fixture: { ...shaken(aFixture()), elements: elements() } }],
    control: {
      ...aControl(),
      machine: { ...shaken(basis.control.machine), behaviour: someBehaviour(seeded(seed + 7919)) },
      wires: aControl().wires.map((wire) => shaken(wire)),
    },
    leastProbability: basis.leastProbability,
    marginsAsked: basis.marginsAsked,
  };
  const apart = seeded(seed + 700_000);
  const { fixture, operations, powerUnit } = facts;
  const gaugeOffReferenceK = apart() < 0.5 ? null : 25 * apart();
  const limits = seeded(seed + 990_000);
  const isAsked = apart() < 0.3;
  const changed = withChanges(facts.settings.readings, seeded(seed + 800_000));
  const described = (element: FixtureElementFacts): FixtureElementFacts => ({
    ...(isAsked ? withPad(element, apart) : element),
    pulls: apart() < 0.8 ? null : apart() < 0.5,
  });
  const withPads = fixture === null ? null : { ...fixture, elements: fixture.elements.map(described) };
  const setPointPa = facts.settings.inUse?.setPointPa ?? null;
  const settings = {
    ...facts.settings,
    readings: withConditions(changed, setPointPa, withPads?.elements ?? null, seeded(seed + 980_000)),
  };
  const neighbours = facts.neighbours.map((one) => ({ ...one, isFixtureAsRead: apart() < 0.8 }));
  return {
    ...facts,
    circuit: withWarming(withBothLines(facts.circuit, seeded(seed + 940_000)), powerUnit.drive, seeded(seed + 930_000)),
    components: withUnplaced(
      withReseats(
        withOpeningTolerances(
          withReliefs(withBursts(facts.components, seeded(seed + 920_000)), seeded(seed + 950_000)),
          seeded(seed + 970_000),
        ),
        seeded(seed + 960_000),
      ),
      seeded(seed + 900_000),
    ),
    settings,
    neighbours,
    fixture: withPads,
    control: withValve(facts, seeded(seed + 910_000)),
    powerUnit: { ...powerUnit, gaugeOffReferenceK },
    operations: operations
      .map((each) => withComputed(each, fixture?.elements ?? [], apart))
      .map((each) => withLocatorLimit(each, limits)),
  };
}
