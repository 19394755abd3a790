import type { Fixture, Operation } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aDrilling, mm, onRestPads } from '../builders/drilled.js';
import { aClamp, anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;
const [customerId, fixtureId] = [uuidv7(), uuidv7()];
const AT = { x: mm(10), y: mm(20), z: mm(0), direction: { x: 0, y: 0, z: -1 } };

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Parts')).emails.engineer);
  await engineer.post('/customers', { id: customerId, name: 'Norte Test' }).expect(201);
  const elements = [
    { ...aClamp(), quantity: 1, places: [AT] },
    { id: uuidv7(), kind: 'locator', name: 'Pin', quantity: 1 },
  ];
  await engineer.post('/fixtures', { id: fixtureId, customerId, name: 'Fx 1', elements }).expect(201);
});
afterAll(() => api.stop());

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const exportsNow = (): Promise<string[]> =>
  Promise.all(
    ['fixtures', 'fixture-elements', 'operations', 'ended-operations'].map(
      async (table) => (await engineer.get(`/exports/${table}?format=csv`).expect(200)).text,
    ),
  );
const fixtureNow = async (): Promise<Fixture> =>
  (await engineer.get(`/fixtures/${fixtureId}`).expect(200)).body as Fixture;
const operationsNow = async (of = fixtureId): Promise<Operation[]> =>
  (
    (await engineer.get(`/operations?fixtureId=${of}&current=true`).expect(200)).body as {
      items: Operation[];
    }
  ).items;

const ELEMENTS =
  'Customer;Fixture;Element;Element: kind;Element: quantity;Element: bore [mm];Element: rated force [kN];Element: places';

describe('elements of fixtures', () => {
  it('are added and changed one by one, beside what their fixture has, and undone', async () => {
    const before = await exportsNow();
    const was = await fixtureNow();
    const upload = await tryFile(
      engineer,
      'elements.csv',
      csv(
        ELEMENTS,
        'Norte Test;Fx 1;swing  CLAMPS;;;32;;"12 mm, 20 mm, 0 mm toward 0, 0, -1; 1 in, 0 mm, 0 mm toward 1, 0, 0"',
        'Norte Test;Fx 1;Support 1;support;2;40;8;',
        'Norte Test;Fx 2;Clamp A;clamp;4;25;4.2;',
      ),
    );
    expect(await upload.findings()).toEqual([]);
    const [changed, added] = await upload.rows();
    expect(changed?.records.at(-1)).toMatchObject({
      entity: 'fixture-element',
      outcome: 'changed',
      changes: [
        { field: 'fixture-element.bore', from: '25 mm', to: '32 mm' },
        { field: 'fixture-element.places', from: '10 mm, 20 mm, 0 mm toward 0, 0, -1' },
      ],
    });
    expect(added?.records.at(-1)).toMatchObject({ entity: 'fixture-element', outcome: 'created' });
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const now = await fixtureNow();
    expect(now.elements.map(({ name, quantity }) => [name, quantity])).toEqual([
      ['Swing clamps', 1],
      ['Pin', 1],
      ['Support 1', 2],
    ]);
    expect(now.elements[0]).toEqual({
      ...was.elements[0],
      bore: { value: 32, unit: 'mm', digits: 0 },
      places: [
        { ...AT, x: mm(12) },
        { x: { value: 1, unit: '[in_i]' }, y: mm(0), z: mm(0), direction: { x: 1, y: 0, z: 0 } },
      ],
    });
    expect(now.elements[1]).toEqual(was.elements[1]);
    const again = await tryFile(engineer, 'again.csv', (await exportsNow())[1] ?? '');
    expect((await again.get()).counts?.rows).toMatchObject({ created: 0, changed: 0, refused: 0, unchanged: 4 });
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await exportsNow()).toEqual(before);
    expect((await fixtureNow()).elements).toEqual(was.elements);
  });

  it('of one name are never taken for one, and all that is wrong with a row is said at once', async () => {
    const twice = await tryFile(
      engineer,
      'twice.csv',
      csv(ELEMENTS, 'Norte Test;Fx 3;Pin;locator;1;;;', 'Norte Test;Fx 3;Pin;locator;1;;;'),
    );
    expect(await twice.findings()).toEqual(['C2 element-twice', 'C3 element-twice']);
    const wrong = await tryFile(
      engineer,
      'wrong.csv',
      csv(ELEMENTS, 'Norte Test;Fx 1;Clamp B;hook;0;-1;4 bar;', 'Norte Test;Fx 1;Clamp C;clamp;1;;;somewhere'),
    );
    expect((await wrong.findings()).sort()).toEqual([
      'D2 choice',
      'E2 range',
      'F2 negative',
      'G2 unit-not-understood',
      'H3 places',
    ]);
  });
});

describe('figures of an element that do not go together', () => {
  const ORDERED =
    'Customer;Fixture;Element;Element: kind;Element: bore [mm];Element: rod [mm];Element: rated pressure [bar];Element: least working pressure [bar]';

  it('are refused in a file as they are in the form, of a new one and beside what is there', async () => {
    const lines = [
      'Norte Test;Fx O;A;clamp;25;26;;',
      'Norte Test;Fx O;B;clamp;25;25;200;201',
      'Norte Test;Fx O;C;clamp;25;25;200;200',
    ];
    const upload = await tryFile(engineer, 'ordered.csv', csv(ORDERED, ...lines));
    expect((await upload.findings()).sort()).toEqual(['E2 figure', 'G3 figure']);
    const [row] = await upload.rows();
    expect(row?.findings).toMatchObject([{ params: { figure: 'Element: bore', needs: 'at least its rod' } }]);
    expect(await upload.commit({ withoutRefused: true })).toMatchObject({ state: 'finished' });
    // The bore stands there: the rod alone is in the file.
    const rods = 'Customer;Fixture;Element;Element: rod [mm]';
    const later = await tryFile(engineer, 'rods.csv', csv(rods, 'Norte Test;Fx O;C;30'));
    expect(await later.findings()).toEqual(['D2 figure']);
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
  });
});

describe('elements of one name in one fixture', () => {
  const twinId = uuidv7();
  const rest = (mmX: number) => ({ ...AT, x: mm(mmX) });
  const twins = [
    { id: uuidv7(), kind: 'locator', name: 'Rest', quantity: 1, places: [rest(10)] },
    { id: uuidv7(), kind: 'locator', name: 'Pin', quantity: 1, places: [rest(15)] },
    { id: uuidv7(), kind: 'locator', name: 'rest', quantity: 1, places: [rest(20)] },
    { id: uuidv7(), kind: 'locator', name: 'Rest', quantity: 1, places: [rest(30)] },
  ];
  const row = (name: string, x: number, quantity = '') =>
    `Norte Test;Twins;${name};locator;${quantity};;;"${x} mm, 20 mm, 0 mm toward 0, 0, -1"`;
  const elementsNow = async () => ((await engineer.get(`/fixtures/${twinId}`).expect(200)).body as Fixture).elements;

  beforeAll(() => engineer.post('/fixtures', { id: twinId, customerId, name: 'Twins', elements: twins }).expect(201));

  it('come back as they were exported, and in another order: each is known by what it says', async () => {
    const lines = ((await exportsNow())[1] ?? '').split('\r\n');
    const again = await tryFile(engineer, 'again.csv', lines.join('\r\n'));
    expect(await again.findings()).toEqual([]);
    expect((await again.get()).counts?.rows).toMatchObject({ created: 0, changed: 0, refused: 0 });
    const [head = '', ...rows] = lines.filter((line) => line !== '');
    const turned = await tryFile(engineer, 'turned.csv', csv(head, ...rows.reverse()));
    expect((await turned.get()).counts?.rows).toMatchObject({ created: 0, changed: 0, refused: 0 });
  });

  it('are changed one by one, the rest in the order of the fixture, and undone to the letter', async () => {
    const before = await exportsNow();
    const was = await elementsNow();
    // The middle one as it is; of the others one moves and one is there twice.
    const upload = await tryFile(
      engineer,
      'changed.csv',
      csv(ELEMENTS, row('Rest', 20), row('Rest', 11), row('Rest', 30, '2')),
    );
    expect(await upload.findings()).toEqual([]);
    expect((await upload.rows()).map(({ records }) => records.at(-1)?.outcome)).toEqual([
      'unchanged',
      'changed',
      'changed',
    ]);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const now = await elementsNow();
    expect(now.map(({ id, name, quantity, places }) => [id, name, quantity, places[0]?.x.value])).toEqual([
      [was[0]?.id, 'Rest', 1, 11],
      [was[1]?.id, 'Pin', 1, 15],
      [was[2]?.id, 'rest', 1, 20],
      [was[3]?.id, 'Rest', 2, 30],
    ]);
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await exportsNow()).toEqual(before);
    expect(await elementsNow()).toEqual(was);
  });

  it.each([
    ['fewer', [row('Rest', 10), row('Rest', 20)]],
    ['more', [row('Rest', 10), row('Rest', 20), row('Rest', 30), row('Rest', 40)]],
    ['one', [row('Rest', 12)]],
  ])('are refused where a file lists %s of them: nobody could say which is meant', async (_how, rows) => {
    const upload = await tryFile(engineer, 'some.csv', csv(ELEMENTS, ...rows));
    expect(await upload.findings()).toEqual(rows.map((_, n) => `C${n + 2} element-twice`));
    const [first] = await upload.rows();
    expect(first?.findings[0]?.params).toEqual({ name: 'Rest', listed: rows.length, there: 3 });
  });
});

const OPERATIONS =
  'Customer;Fixture;Operation;Operation: name;Operation: tool;Operation: required pressure;Operation: source of the required pressure;Operation: workpiece does not limit;Operation: does not limit because;Operation: said by;Operation: valid from';

describe('operations', () => {
  it('come in, end and begin anew by the day that the file says, and are undone', async () => {
    const first = await tryFile(
      engineer,
      'first.csv',
      csv(
        OPERATIONS,
        'Norte Test;Fx 1;10;Rough face;Face mill 63;118 bar;handbook, invented;yes;solid part;R. Test;2026-01-05',
      ),
    );
    expect(await first.findings()).toEqual([]);
    expect(await first.commit()).toMatchObject({ state: 'finished' });
    const before = await exportsNow();
    const [operation] = await operationsNow();
    expect(operation).toMatchObject({
      number: 10,
      name: 'Rough face',
      requiredBasis: 'typed',
      requiredPressure: { value: 118, unit: 'bar' },
      workpieceNotLimiting: true,
      validFrom: '2026-01-05T00:00:00.000Z',
    });
    const same = await tryFile(engineer, 'same.csv', before[2] ?? '');
    expect((await same.get()).counts?.rows).toMatchObject({ created: 0, changed: 0, refused: 0, unchanged: 1 });
    const open = await tryFile(
      engineer,
      'open.csv',
      csv('Customer;Fixture;Operation;Operation: required pressure', 'Norte Test;Fx 1;10;130 bar'),
    );
    expect(await open.findings()).toEqual(['row 2 operation-differs']);
    const next = await tryFile(
      engineer,
      'next.csv',
      csv(
        'Customer;Fixture;Operation;Operation: name;Operation: required pressure;Operation: valid from',
        'Norte Test;Fx 1;10;Finish face;130 bar;2026-02-01',
      ),
    );
    expect((await next.rows())[0]?.records.at(-1)?.changes).toMatchObject([
      { field: 'operation.name', from: 'Rough face', to: 'Finish face' },
      { field: 'operation.requiredPressure', from: '118 bar', to: '130 bar' },
      { field: 'operation.validFrom' },
    ]);
    expect(await next.commit()).toMatchObject({ state: 'finished' });
    expect(await operationsNow()).toMatchObject([
      { name: 'Finish face', tool: 'Face mill 63', requiredPressure: { value: 130 }, notLimitingBy: 'R. Test' },
    ]);
    expect((await exportsNow())[3]).toContain('Rough face');
    expect(await next.undo()).toMatchObject({ state: 'finished' });
    expect(await exportsNow()).toEqual(before);
    expect(await operationsNow()).toEqual([{ ...operation, version: expect.any(Number) as number }]);
    expect(await first.undo()).toMatchObject({ state: 'finished' });
    expect(await operationsNow()).toEqual([]);
  });

  it('with rules that a table cannot break', async () => {
    const wrong = await tryFile(
      engineer,
      'wrong.csv',
      csv(
        `${OPERATIONS};Operation: basis of the required pressure`,
        'Norte Test;Fx 1;20;Drill;;;;yes;;;2026-01-05;',
        'Norte Test;Fx 1;30;Tap;;;;;;;2026-01-05;computed',
      ),
    );
    expect(await wrong.findings()).toEqual(['H2 workpiece-limit', 'row 3 operation-without-method']);
  });

  it('that are computed follow elements that a file changes, and the undo of it', async () => {
    const fixture = uuidv7();
    await engineer.post('/fixtures', { id: fixture, customerId, name: 'Fx 9', elements: onRestPads() }).expect(201);
    const validFrom = '2026-01-05T00:00:00.000Z';
    const operation = { id: uuidv7(), fixtureId: fixture, number: 40, name: 'Drill 8', requiredBasis: 'computed' };
    await engineer.post('/operations', { ...operation, cut: aDrilling, validFrom }).expect(201);
    const before = await exportsNow();
    const [was] = await operationsNow(fixture);
    expect(was?.requiredPressure?.value).toBeGreaterThan(0);
    const upload = await tryFile(
      engineer,
      'friction.csv',
      csv('Customer;Fixture;Element;Element: friction coefficient', 'Norte Test;Fx 9;Rest pads;0.4'),
    );
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const [after] = await operationsNow(fixture);
    expect(after?.requiredPressure?.value).toBeLessThan(was?.requiredPressure?.value ?? 0);
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await operationsNow(fixture)).toEqual([{ ...was, version: expect.any(Number) as number }]);
    expect(await exportsNow()).toEqual(before);
    const renamed = await tryFile(
      engineer,
      'renamed.csv',
      csv('Customer;Fixture;Operation;Operation: name;Operation: valid from', 'Norte Test;Fx 9;40;Drill 9;2026-02-01'),
    );
    expect(await renamed.commit()).toMatchObject({ state: 'finished' });
    expect(await operationsNow(fixture)).toMatchObject([{ name: 'Drill 9', computed: was?.computed, cut: was?.cut }]);
    expect(await renamed.undo()).toMatchObject({ state: 'finished' });
    expect(await exportsNow()).toEqual(before);
  });
});
