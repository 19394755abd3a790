import { hash } from '@node-rs/argon2';
import pg from 'pg';
import { uuidv7 } from 'uuidv7';
import { PASSWORD, type TestApi, type TestClient } from '../support/api.js';
import { keptOrigin, placeForCopy, writeCopy } from './copied-rows.js';

const MARGINS = {
  'holds-workpiece': 0.03,
  'no-nuisance-stop': 0.02,
  'setting-within-rating': 0.03,
  'highest-within-rating': 0,
  'workpiece-limit': 0.02,
};
export const STAFF = ['engineer', 'installer', 'lead', 'administrator'] as const;

export interface Organisation {
  id: string;
  /** e-mail by role */
  emails: Record<string, string>;
  /** membership id by role */
  memberships: Record<string, string>;
}

let passwordHash: Promise<string> | null = null;

/** Writes as the superuser of the test cluster: what no person may do, such as making an organisation. */
export async function asSuperuser<T>(api: TestApi, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: api.db.superuserUrl });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** An organisation with one person in each role of the integrator. */
export async function anOrganisation(api: TestApi, name: string): Promise<Organisation> {
  const id = uuidv7();
  const organisation: Organisation = { id, emails: {}, memberships: {} };
  await asSuperuser(api, (client) =>
    client.query('INSERT INTO organisations (id, name, margins_asked) VALUES ($1, $2, $3)', [
      id,
      name,
      JSON.stringify(MARGINS),
    ]),
  );
  for (const role of STAFF) await addPerson(api, organisation, role, role, null);
  return organisation;
}

/** A person with a role; `key` finds e-mail and membership again. */
export async function addPerson(
  api: TestApi,
  organisation: Organisation,
  key: string,
  role: string,
  customerId: string | null,
): Promise<void> {
  passwordHash ??= hash(PASSWORD, { memoryCost: 19_456, timeCost: 2, parallelism: 1 });
  const [userId, membershipId, hashed] = [uuidv7(), uuidv7(), await passwordHash];
  const email = `${key}.${organisation.id.slice(-6)}@test.example`;
  await asSuperuser(api, async (client) => {
    await client.query('INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $3, $4)', [
      userId,
      email,
      `Test ${key}`,
      hashed,
    ]);
    await client.query(
      'INSERT INTO memberships (organisation_id, id, user_id, customer_id, role, display_name) VALUES ($1, $2, $3, $4, $5, $6)',
      [organisation.id, membershipId, userId, customerId, role, `Test ${key}`],
    );
  });
  organisation.emails[key] = email;
  organisation.memberships[key] = membershipId;
}

const bar = (value: number) => ({ value, unit: 'bar' });
const figure = (value: number, unit: string) => ({ value, unit, source: 'test data, invented' });
const seconds = (value: number) => ({ value, unit: 's' });
const CREATED = 201;

/** A mineral oil of grade 32. */
const OIL = {
  oilViscosityAt40: { value: 32, unit: 'mm2/s' },
  oilViscosityAt100: { value: 5.4, unit: 'mm2/s' },
  oilDensity: { value: 870, unit: 'kg/m3' },
  oilBulkModulus: { value: 1.5, unit: 'GPa' },
  oilAirFraction: 0.005,
  coldOilTemperature: { value: 15, unit: 'Cel' },
  workingOilTemperature: { value: 38, unit: 'Cel' },
};
/** A control that is sound in every rule, with a supply that is large enough. */
export const CONTROL = {
  controlVoltageV: 24,
  supplyRatingW: 120,
  supplyPeakW: 180,
  controlLoadW: 20,
  controlLoadPeakW: 30,
  supplyReserveRatio: 0.25,
  controlTemperature: { value: 40, unit: 'Cel' },
  hasSeparateCommons: true,
  outputRatingV: 60,
  controlBehaviour: {
    onPressureLoss: 'stop',
    cutNeedsSwitch: true,
    palletNeedsSwitch: true,
    unclampBlockedWhile: 'turning',
    alarmLatches: true,
    resetClearsAlarm: false,
    alarmMasked: true,
    onEmergencyStop: 'keep',
    onReset: 'keep',
    onPowerReturn: 'keep',
    onAirLow: 'stop',
    airReturn: 'by-hand',
    switchMustOpen: true,
    manualInterlocked: true,
  },
};
/** Four swing clamps of which everything is known. */
export const aClamp = () => ({
  id: uuidv7(),
  kind: 'clamp',
  name: 'Swing clamps',
  quantity: 4,
  form: 'swing-clamp',
  acting: 'double',
  ratedPressure: bar(250),
  bore: { value: 25, unit: 'mm' },
  rod: { value: 16, unit: 'mm' },
  stroke: { value: 12, unit: 'mm' },
  friction: { value: 80, unit: 'N' },
  viscousFriction: { value: 400, unit: 'N.s/m' },
  contactStiffness: { value: 20, unit: 'N/um' },
  ratedForce: { value: 4.2, unit: 'kN' },
  highestFlow: { value: 1.5, unit: 'L/min' },
  armPressure: bar(220),
});

async function created(test: ReturnType<TestClient['post']>): Promise<{ id: string; version: number }> {
  const response = await test;
  if (response.status !== CREATED) throw new Error(`${response.status} ${response.text}`);
  return response.body as { id: string; version: number };
}

/** M-codes, outputs to both coils, the switch's input and their wires. */
async function wire(engineer: TestClient, ids: CircuitWorld): Promise<void> {
  const { machineId, stationId, circuitId } = ids;
  for (const [code, action, id] of [
    ['M21', 'clamp', ids.mCodeId],
    ['M22', 'unclamp', uuidv7()],
  ]) {
    await created(engineer.post('/m-codes', { id, machineId, stationId, code, action, waitsForAnswer: true }));
  }
  const coil = {
    direction: 'output',
    suppression: 'transient-suppressor',
    suppressionVoltageV: 33,
    isPolarityRight: true,
    isHeldOn: true,
  };
  const signals = [
    { id: ids.signalId, name: 'Y1', actsOn: 'clamp-coil', mCodeId: ids.mCodeId, ...coil },
    { id: uuidv7(), name: 'Y2', actsOn: 'unclamp-coil', ...coil },
    { id: uuidv7(), name: 'B1', direction: 'input', alarm: 'clamping pressure lost' },
  ];
  for (const [index, signal] of signals.entries()) {
    await created(engineer.post('/signals', { machineId, circuitId, ...signal }));
    await created(
      engineer.post('/wires', {
        id: index === 0 ? ids.wireId : uuidv7(),
        signalId: signal.id,
        number: `1${index}`,
        fromTerminal: `X1.${index}`,
        toTerminal: signal.name,
        crossSection: { value: 0.75, unit: 'mm2' },
        length: { value: 12, unit: 'm' },
        insulationVoltageV: 300,
        protectionA: 4,
        conductorLimitA: 7,
        highestInCableV: 24,
      }),
    );
  }
}

export interface CircuitWorld {
  customerId: string;
  siteId: string;
  machineId: string;
  stationId: string;
  powerUnitId: string;
  circuitId: string;
  fixtureId: string;
  operationId: string;
  hoseTypeId: string;
  hoseId: string;
  targetSettingId: string;
  setupRecordId: string;
  mCodeId: string;
  signalId: string;
  wireId: string;
  fittedAt: string;
}

/** Days ago, as an instant. */
export const ago = (days: number): string => new Date(Date.now() - days * 86_400_000).toISOString();

/**
 * A customer with one machine whose one circuit holds in every check: what the API writes when an engineer builds it, copied where
 * the organisation asks for the usual margins.
 */
export async function aCircuit(engineer: TestClient, name: string): Promise<CircuitWorld> {
  const place = await placeForCopy(engineer, MARGINS, name);
  if (place === null) return buildCircuit(engineer, name);
  const origin = await keptOrigin(async (api) => {
    const organisation = await anOrganisation(api, 'Origin');
    return { organisation, engineer: await api.as(organisation.emails.engineer), build: buildCircuit };
  });
  return writeCopy<CircuitWorld>(origin, place, name);
}

/** The same, built through the API alone. */
export async function buildCircuit(engineer: TestClient, name: string): Promise<CircuitWorld> {
  const ids = {
    customerId: uuidv7(),
    siteId: uuidv7(),
    machineId: uuidv7(),
    stationId: uuidv7(),
    powerUnitId: uuidv7(),
    circuitId: uuidv7(),
    fixtureId: uuidv7(),
    operationId: uuidv7(),
    hoseTypeId: uuidv7(),
    hoseId: uuidv7(),
    targetSettingId: uuidv7(),
    setupRecordId: uuidv7(),
    mCodeId: uuidv7(),
    signalId: uuidv7(),
    wireId: uuidv7(),
    fittedAt: ago(100),
  };
  await created(engineer.post('/customers', { id: ids.customerId, name: `Customer ${name}` }));
  const site = { id: ids.siteId, customerId: ids.customerId, name: 'Works', place: 'Braga', timeZone: 'Europe/Lisbon' };
  await created(engineer.post('/sites', site));
  await created(
    engineer.post('/machines', {
      id: ids.machineId,
      siteId: ids.siteId,
      name: `VMC-${name}`,
      form: 'single-station',
      wayIn: 'direct',
      stations: [{ id: ids.stationId, name: 'Station 1' }],
      controlReaction: { value: 1.2, unit: 's' },
      ...CONTROL,
    }),
  );
  const unit = { id: ids.powerUnitId, machineId: ids.machineId, name: 'Power unit 1', drive: 'air' };
  await created(engineer.post('/power-units', { ...unit, plantAirLow: bar(5.2), plantAirHigh: bar(6.5), ...OIL }));
  await created(
    engineer.post('/circuits', {
      id: ids.circuitId,
      powerUnitId: ids.powerUnitId,
      stationId: ids.stationId,
      name: 'Station 1',
      canTrap: false,
      // Behind the outlet check of its pump it is shut in, and stays as warm as it is.
      trappedTemperatureRise: { value: 0, unit: 'K' },
      unclampLineCanBlock: false,
      isDecoupled: false,
      clampTimeAllowed: seconds(3),
      unclampTimeAllowed: seconds(4),
      needsOpenProof: false,
      returnPressure: bar(2),
      valveBehaviour: 'double-detented',
      isCheckHeld: false,
    }),
  );
  await fitComponents(engineer, name, ids);
  await wire(engineer, ids);
  await created(
    engineer.post('/fixtures', {
      id: ids.fixtureId,
      customerId: ids.customerId,
      name: `F-${name}`,
      ratedPressure: bar(210),
      elements: [aClamp()],
    }),
  );
  const fitting = { id: uuidv7(), fixtureId: ids.fixtureId, stationId: ids.stationId, validFrom: ids.fittedAt };
  await created(engineer.post('/fixture-fittings', fitting));
  await created(
    engineer.post('/operations', {
      id: ids.operationId,
      fixtureId: ids.fixtureId,
      number: 10,
      name: 'Rough face',
      requiredPressure: bar(118),
      workpieceNotLimiting: true,
      notLimitingReason: 'solid part',
      notLimitingBy: 'Test engineer',
      validFrom: ids.fittedAt,
    }),
  );
  const settings = {
    setting: bar(175),
    settingTolerance: bar(4),
    setPoint: bar(150),
    resetPoint: bar(142),
    airPressure: bar(4.5),
    pumpRestart: bar(160),
    pumpRestartTolerance: bar(3),
  };
  const ofCircuit = { circuitId: ids.circuitId, ...settings, afterRevision: 0 };
  await created(engineer.post('/target-settings', { id: ids.targetSettingId, ...ofCircuit, reason: 'first sizing' }));
  await created(
    engineer.post('/setup-records', {
      id: ids.setupRecordId,
      ...ofCircuit,
      clampTime: seconds(1.8),
      contactTime: seconds(1.4),
      timeTolerance: seconds(0.1),
      decay: bar(3),
      decayDuration: { value: 5, unit: 'min' },
      oilTemperature: { value: 10, unit: 'Cel' },
      gaugeSpan: bar(250),
      gaugeClass: '1.6',
      reportName: 'Commissioning report',
      reason: 'first commissioning',
      measuredAt: ago(90),
      measuredByName: 'Test installer',
    }),
  );
  return ids;
}

const TUBE = { ratedPressure: figure(300, 'bar'), outerDiameter: figure(12, 'mm'), wall: figure(1.5, 'mm') };
const HOSE = {
  ratedPressure: figure(275, 'bar'),
  innerDiameter: figure(6, 'mm'),
  length: figure(2, 'm'),
  expansionModulus: figure(1.4, 'GPa'),
};
const OF_POWER_UNIT: readonly string[] = ['pump', 'relief', 'reservoir', 'supply tube'];
const LINES: Record<string, string[]> = {
  reservoir: ['tank'],
  'supply tube': ['supply', 'tank'],
  'unclamp hose': ['unclamp'],
  valve: ['supply', 'tank', 'clamp', 'unclamp'],
};

async function fitComponents(engineer: TestClient, name: string, ids: CircuitWorld): Promise<void> {
  const types: [string, string, Record<string, object>][] = [
    [
      'pump',
      'pump',
      {
        ratedPressure: figure(350, 'bar'),
        pistonRatio: figure(40, '1'),
        stallEfficiency: figure(0.98, '1'),
        freeFlow: figure(3.2, 'L/min'),
      },
    ],
    [
      'relief-valve',
      'relief',
      { ratedPressure: figure(350, 'bar'), openingPressure: figure(190, 'bar'), fullFlowPressure: figure(205, 'bar') },
    ],
    [
      'pressure-switch',
      'switch',
      {
        ...{ ratedPressure: figure(400, 'bar'), accuracy: figure(2, 'bar'), deadband: figure(8, 'bar') },
        delay: figure(20, 'ms'),
      },
    ],
    ['hose', 'hose', HOSE],
    ['reservoir', 'reservoir', { usableVolume: figure(5, 'L'), freeVolume: figure(1, 'L') }],
    ['tube', 'supply tube', { ...TUBE, length: figure(2, 'm') }],
    ['hose', 'unclamp hose', HOSE],
    [
      'directional-valve',
      'valve',
      {
        ratedPressure: figure(315, 'bar'),
        ratedFlow: figure(20, 'L/min'),
        lossAtRatedFlow: figure(6, 'bar'),
        solenoids: figure(2, '1'),
        coilPower: figure(30, 'W'),
        coilVoltage: figure(24, 'V'),
        coilTolerance: figure(0.1, '1'),
        coilDuty: figure(1, '1'),
      },
    ],
  ];
  for (const [index, [kind, short, figures]] of types.entries()) {
    const typeId = short === 'hose' ? ids.hoseTypeId : uuidv7();
    await created(engineer.post('/component-types', { id: typeId, kind, name: `${short} ${name}`, figures }));
    const isUnit = OF_POWER_UNIT.includes(short);
    await created(
      engineer.post('/installed-components', {
        id: short === 'hose' ? ids.hoseId : uuidv7(),
        machineId: ids.machineId,
        powerUnitId: isUnit ? ids.powerUnitId : null,
        circuitId: isUnit ? null : ids.circuitId,
        componentTypeId: typeId,
        designation: `H1.${index + 1}`,
        lineFunctions: LINES[short] ?? (isUnit ? ['supply'] : ['clamp']),
        ...(short === 'switch' ? { sensing: 'clamp-line', isBeyondShutOff: true } : {}),
        lot: short === 'hose' ? `LOT-${name}` : '',
        validFrom: ids.fittedAt,
      }),
    );
  }
}
