import type { Operation } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aDrilling, mm, onRestPads } from '../builders/drilled.js';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile, type ImportClient } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;
let stranger: TestClient;
const [customerId, fixtureId] = [uuidv7(), uuidv7()];
const validFrom = '2026-01-05T00:00:00.000Z';
/** Every figure that milling asks for, and those of a pallet that turns. All invented. */
const aMilling = {
  method: 'milling',
  materialGroup: 's235',
  kc11: { value: 1780, unit: 'N/mm2' },
  mc: 0.17,
  diameter: mm(50),
  teeth: 4,
  feed: mm(0.1),
  axialDepth: mm(0.5),
  radialWidth: mm(10),
  engagement: 'down',
  leadAngle: { value: 90, unit: 'deg' },
  wear: 1.3,
  radialRatio: 0.3,
  axialForce: { value: -50, unit: 'N' },
  directions: 24,
  points: [
    { x: mm(0), y: mm(0), z: mm(40) },
    { x: mm(10), y: mm(-5), z: mm(40) },
  ],
  toolAxis: { x: 0, y: 0, z: -1 },
  workpieceMass: { value: 2, unit: 'kg' },
  centreOfMass: { x: mm(0), y: mm(0), z: mm(20) },
  gravity: { x: 0, y: 0, z: -1 },
  otherGravities: [{ x: 0, y: 1, z: -1 }],
  indexingSpeed: { value: 10, unit: 'deg/s' },
  indexingAcceleration: { value: 20, unit: 'deg/s2' },
  indexingRadius: mm(50),
  workpieceRadius: mm(60),
  specificForceSpread: 0.2,
  frictionSpread: 0.1,
  safetyFactor: 2,
  coneFacets: 8,
};

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Cuts')).emails.engineer);
  stranger = await api.as((await anOrganisation(api, 'Others')).emails.engineer);
  await engineer.post('/customers', { id: customerId, name: 'Norte Test' }).expect(201);
  const fixture = { id: fixtureId, customerId, name: 'Fx 1', elements: onRestPads() };
  await engineer.post('/fixtures', fixture).expect(201);
  const cuts = [
    ['Mill', aMilling],
    ['Drill', aDrilling],
    ['Mill, feed not known', { ...aMilling, feed: null, points: [] }],
    ['Drill, depth not known', { ...aDrilling, pointAngle: null }],
    ['Typed', null],
  ] as const;
  for (const [n, [name, cut]] of cuts.entries()) {
    const operation = { id: uuidv7(), fixtureId, number: 10 * (n + 1), name, validFrom };
    const required =
      cut === null
        ? { requiredPressure: { value: 90, unit: 'bar' }, requiredSource: 'invented' }
        : { requiredBasis: 'computed', cut };
    await engineer.post('/operations', { ...operation, ...required }).expect(201);
  }
}, 120_000);
afterAll(() => api.stop());

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const exportOf = async (client: TestClient, table: string): Promise<string> =>
  (await client.get(`/exports/${table}?format=csv`).expect(200)).text;
/** Rows come by their ids, which are others in another organisation. */
const sorted = (text: string): string[] => text.split('\r\n').sort();
const operationsOf = async (client: TestClient): Promise<Operation[]> =>
  ((await client.get('/operations?current=true&limit=50').expect(200)).body as { items: Operation[] }).items.sort(
    (one, other) => one.number - other.number,
  );
async function bringIn(client: TestClient, name: string, text: string): Promise<ImportClient> {
  const upload = await tryFile(client, name, text);
  expect(await upload.findings()).toEqual([]);
  expect(await upload.commit()).toMatchObject({ state: 'finished' });
  return upload;
}

it('a cut goes out and into a fresh organisation, which computes the same; undone, it leaves nothing', async () => {
  const tables = ['customers', 'fixtures', 'fixture-elements', 'operations'];
  const uploads: ImportClient[] = [];
  const before = await Promise.all([...tables, 'ended-operations'].map((table) => exportOf(stranger, table)));
  for (const table of tables) {
    const text = await exportOf(engineer, table);
    uploads.push(await bringIn(stranger, `${table}.csv`, text));
    expect([table, sorted(await exportOf(stranger, table))]).toEqual([table, sorted(text)]);
  }
  const [mine, theirs] = [await operationsOf(engineer), await operationsOf(stranger)];
  expect(theirs.map(({ computed }) => computed?.status)).toEqual(['held', 'held', 'missing', 'missing', undefined]);
  expect(theirs.map(({ requiredPressure }) => requiredPressure)).toEqual(
    mine.map(({ requiredPressure }) =>
      requiredPressure === null ? null : { ...requiredPressure, digits: requiredPressure.digits ?? 0 },
    ),
  );
  expect(theirs.map(({ computed }) => computed?.missing.map(({ field }) => field))).toEqual(
    mine.map(({ computed }) => computed?.missing.map(({ field }) => field)),
  );
  const rows = await (uploads[3] as ImportClient).rows();
  expect(rows.map(({ outcome, findings }) => [outcome, findings.map(({ code, params }) => [code, params])])).toEqual([
    ['created', [['cut-computed', { name: 'Mill' }]]],
    ['created', [['cut-computed', { name: 'Drill' }]]],
    ['created', [['cut-lacks', { name: 'Mill, feed not known', missing: 'Feed, Points of the path, or holes' }]]],
    ['created', [['cut-lacks', { name: 'Drill, depth not known', missing: 'Point angle' }]]],
    ['created', []],
  ]);
  for (const upload of uploads.reverse()) expect(await upload.undo()).toMatchObject({ state: 'finished' });
  expect(await Promise.all([...tables, 'ended-operations'].map((table) => exportOf(stranger, table)))).toEqual(before);
}, 120_000);

it('an export comes in again as no change', async () => {
  const again = await tryFile(engineer, 'again.csv', await exportOf(engineer, 'operations'));
  expect(await again.findings()).toEqual([]);
  expect((await again.get()).counts?.rows).toMatchObject({ created: 0, changed: 0, refused: 0, unchanged: 5 });
});

const HEAD = 'Customer;Fixture;Operation;Operation: valid from';

it('a figure in a unit of its own is shown in ours, computed from, and undone to the letter', async () => {
  const before = await operationsOf(engineer);
  const exported = await exportOf(engineer, 'operations');
  const text = csv(`${HEAD};Feed;Material group`, 'Norte Test;Fx 1;20;2026-02-01;0.01 in;S235 (St 37 to St 42)');
  const upload = await tryFile(engineer, 'feed.csv', text);
  expect(await upload.findings()).toEqual([]);
  const [row] = await upload.rows();
  expect(row?.records.at(-1)?.changes).toMatchObject([
    { field: 'operation.feed', from: '0.15 mm', to: '0.01 in', converted: '0.254 mm', cell: 'E2' },
    { field: 'operation.materialGroup', from: '42crmo4', to: 's235', cell: 'F2' },
    { field: 'operation.kc11', to: '1780 N/mm²', cell: null },
    { field: 'operation.mc', from: '0.26', to: '0.17', cell: null },
    { field: 'operation.validFrom' },
  ]);
  expect(await upload.commit()).toMatchObject({ state: 'finished' });
  const [, drill] = await operationsOf(engineer);
  expect(drill?.cut).toMatchObject({ feed: { value: 0.01, unit: '[in_i]' }, mc: 0.17, materialGroup: 's235' });
  const { id, number, name, cut } = drill as Operation;
  const byForm = { id: uuidv7(), fixtureId, number: number + 5, name, requiredBasis: 'computed', cut, validFrom };
  const { body } = await engineer.post('/operations', byForm).expect(201);
  const saved = body as Operation;
  expect(drill?.requiredPressure).toEqual(saved.requiredPressure);
  expect(drill?.requiredPressure).not.toEqual(before[1]?.requiredPressure);
  expect(drill?.computed).toEqual(saved.computed);
  await engineer.patch(`/operations/${saved.id}`, saved.version, { ended: true }).expect(200);
  expect(id).not.toBe(before[1]?.id);
  expect(await upload.undo()).toMatchObject({ state: 'finished' });
  const version = expect.any(Number) as number;
  expect(await operationsOf(engineer)).toEqual(before.map((one) => ({ ...one, version })));
  expect(await exportOf(engineer, 'operations')).toBe(exported);
});

it('a file that changes what holds the workpiece too is computed with it, once', async () => {
  const before = await operationsOf(engineer);
  const head = `${HEAD};Operation: feed;Element;Element: friction coefficient`;
  const upload = await bringIn(engineer, 'both.csv', csv(head, 'Norte Test;Fx 1;20;2026-02-01;0.2 mm;Rest pads;0.4'));
  const [, drill] = await operationsOf(engineer);
  expect(drill?.validFrom).toBe('2026-02-01T00:00:00.000Z');
  const alone = await bringIn(
    engineer,
    'alone.csv',
    csv(`${HEAD};Operation: feed`, 'Norte Test;Fx 1;20;2026-03-01;0.15 mm'),
  );
  expect((await operationsOf(engineer))[1]?.requiredPressure?.value).toBeLessThan(
    before[1]?.requiredPressure?.value ?? 0,
  );
  expect(await alone.undo()).toMatchObject({ state: 'finished' });
  expect(await upload.undo()).toMatchObject({ state: 'finished' });
  const version = expect.any(Number) as number;
  expect(await operationsOf(engineer)).toEqual(before.map((one) => ({ ...one, version })));
}, 60_000);

it('what was typed stays beside what is computed, and comes back', async () => {
  const cells =
    'drilling;2500 MPa;0.26;8.5 mm;0.15 mm;118;1;0.3;0 mm, 0 mm, 40 mm;0, 0, -1;0 kg;0 mm, 0 mm, 20 mm;0 0 -1;2;16';
  const names =
    'Method;Specific cutting force kc1.1;Exponent mc;Diameter of the tool;Feed;Point angle [°];Factor on the thrust;Pull at breakthrough;Points of the path, or holes;Tool axis;Mass of the workpiece;Centre of mass;Direction of the weight;Safety factor;Edges of the friction cones';
  const basis = 'Operation: basis of the required pressure';
  const [, drill] = await operationsOf(engineer);
  const upload = await bringIn(
    engineer,
    'computed.csv',
    csv(`${HEAD};${basis};${names}`, `Norte Test;Fx 1;50;2026-02-01;computed;${cells}`),
  );
  const computed = (await operationsOf(engineer)).find(({ number }) => number === 50);
  expect(computed).toMatchObject({
    requiredBasis: 'computed',
    requiredPressure: { value: drill?.requiredPressure?.value },
    typedRequired: { requiredPressure: { value: 90, unit: 'bar' }, requiredSource: 'invented' },
  });
  const back = await tryFile(engineer, 'typed.csv', csv(`${HEAD};${basis}`, 'Norte Test;Fx 1;50;2026-03-01;typed'));
  expect((await back.rows())[0]?.records.at(-1)?.changes.map(({ field, to }) => [field, to])).toEqual([
    ['operation.requiredBasis', 'typed'],
    ['operation.requiredPressure', '90 bar'],
    ['operation.requiredSource', 'invented'],
    ['operation.validFrom', '2026-03-01T00:00:00.000Z'],
  ]);
  expect(await back.commit()).toMatchObject({ state: 'finished' });
  expect((await operationsOf(engineer)).find(({ number }) => number === 50)).toMatchObject({
    requiredPressure: { value: 90, unit: 'bar' },
    typedRequired: null,
    cut: { method: 'drilling' },
  });
  expect(await back.undo()).toMatchObject({ state: 'finished' });
  expect(await upload.undo()).toMatchObject({ state: 'finished' });
});

it('what cannot be is told in the cell, and nothing of it is written', async () => {
  const wrong = await tryFile(
    engineer,
    'wrong.csv',
    csv(
      `${HEAD};Operation: basis of the required pressure;Method;Feed;Engagement;Material group;Tool axis;Points of the path, or holes;Operation: name;Operation: required pressure`,
      'Norte Test;Fx 1;90;2026-02-01;computed;sawing;-0.1 mm;sideways;;;;Saw;',
      'Norte Test;Fx 1;91;2026-02-01;computed;;0.1 mm;;;;;Saw;',
      'Norte Test;Fx 1;92;2026-02-01;computed;milling;;;cheese;0, 0, 0;here;Saw;',
      'Norte Test;Fx 1;93;2026-02-01;computed;milling;;;;;;Saw;120 bar',
    ),
  );
  expect((await wrong.findings()).sort()).toEqual([
    'F2 choice',
    'G2 negative',
    'H2 choice',
    'I4 cut-group',
    'J4 cut-place',
    'K4 cut-place',
    'M5 operation-computed',
    'row 3 operation-without-method',
  ]);
  expect((await wrong.rows())[0]?.findings.map(({ field }) => field)).toContain('operation.feed');
});
