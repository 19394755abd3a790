import { uuidv7 } from 'uuidv7';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let engineer: TestClient;
const [near, far] = [uuidv7(), uuidv7()];
const sites = { hall: uuidv7(), yard: uuidv7() };

/** Names with what a database takes for "anything", and names that would be found by mistake. */
const PLATES = [
  { name: 'Plate 100 %', description: 'Bracket, left' },
  { name: 'Plate 100 x', description: 'Bracket, right' },
  { name: 'Cube_4', description: '' },
  { name: 'Cube 4', description: 'for a\\b housings' },
];

async function addMachine(name: string, siteId: string, serial = ''): Promise<void> {
  const machine = { id: uuidv7(), siteId, name, serial, form: 'single-station', wayIn: 'direct' };
  await engineer.post('/machines', { ...machine, stations: [{ id: uuidv7(), name: 'Table' }] }).expect(201);
}

beforeAll(async () => {
  api = await startApi();
  const organisation = await anOrganisation(api, 'Searching');
  engineer = await api.as(organisation.emails['engineer']);
  for (const [id, name] of [
    [near, 'Near Works'],
    [far, 'Far Works'],
  ]) {
    await engineer.post('/customers', { id, name }).expect(201);
  }
  const place = { place: 'Braga', timeZone: 'Europe/Lisbon' };
  await engineer.post('/sites', { id: sites.hall, customerId: near, name: 'Hall_1', ...place }).expect(201);
  await engineer.post('/sites', { id: sites.yard, customerId: far, name: 'Hall 1', ...place }).expect(201);
  for (const plate of PLATES)
    await engineer.post('/fixtures', { id: uuidv7(), customerId: near, ...plate }).expect(201);
  await engineer.post('/fixtures', { id: uuidv7(), customerId: far, name: 'Plate 7' }).expect(201);
  await addMachine('Mill_1', sites.hall, 'S-0451');
  await addMachine('Mill 1', sites.yard);
  await addMachine('Lathe 2', sites.yard);
  for (const [name, partNumber] of [
    ['Clamp 50%', 'C_1'],
    ['Clamp 500', 'C-1'],
  ]) {
    await engineer.post('/component-types', { id: uuidv7(), kind: 'hose', name, partNumber }).expect(201);
  }
});
afterAll(() => api.stop());

async function namesOf(list: string, search: string, more = ''): Promise<string[]> {
  const { body } = await engineer.get(`/${list}?search=${encodeURIComponent(search)}${more}`).expect(200);
  return body.items.map(({ name }: { name: string }) => name).sort();
}

describe('a search', () => {
  it.each([
    ['by a part of the name, however it is written', 'cUBE', ['Cube 4', 'Cube_4']],
    ['by a part of the description', 'bracket', ['Plate 100 %', 'Plate 100 x']],
    ['by words of both, in any order', 'right plate', ['Plate 100 x']],
    ['as a form shows it', 'Plate 100 x · Bracket, right', ['Plate 100 x']],
    ['of what is nowhere', 'nowhere', []],
  ])('finds fixtures %s', async (_how, search, names) => {
    expect(await namesOf('fixtures', search)).toEqual(names);
  });

  it('of fixtures keeps to a customer and goes on page by page', async () => {
    expect(await namesOf('fixtures', 'plate', `&customerId=${far}`)).toEqual(['Plate 7']);
    const first = await engineer.get('/fixtures?search=plate&limit=2').expect(200);
    const rest = await engineer.get(`/fixtures?search=plate&limit=2&cursor=${first.body.nextCursor}`).expect(200);
    const found = [...first.body.items, ...rest.body.items].map(({ name }: { name: string }) => name).sort();
    expect(found).toEqual(['Plate 100 %', 'Plate 100 x', 'Plate 7']);
    expect(rest.body.nextCursor).toBeNull();
  });

  it.each([
    ['their name', 'lathe', ['Lathe 2']],
    ['their serial number', 's-0451', ['Mill_1']],
    ['their site and customer', 'mill, hall 1 · far', ['Mill 1']],
  ])('finds machines that have no circuit by %s', async (_how, search, names) => {
    expect(await namesOf('machines', search)).toEqual(names);
  });

  it('of machines goes on page by page, in the order of their names', async () => {
    const first = await engineer.get('/machines?search=works&limit=2').expect(200);
    const rest = await engineer.get(`/machines?search=works&limit=2&cursor=${first.body.nextCursor}`).expect(200);
    const found = [...first.body.items, ...rest.body.items].map(({ name }: { name: string }) => name);
    expect(found).toEqual(['Lathe 2', 'Mill 1', 'Mill_1']);
  });

  it.each([
    ['fixtures', '100 %', ['Plate 100 %']],
    ['fixtures', '%', ['Plate 100 %']],
    ['fixtures', 'cube_', ['Cube_4']],
    ['fixtures', 'a\\b', ['Cube 4']],
    ['fixtures', 'cub\\', []],
    ['machines', 'mill_1', ['Mill_1']],
    ['sites', 'hall_', ['Hall_1']],
    ['component-types', '50%', ['Clamp 50%']],
    ['component-types', 'c_1', ['Clamp 50%']],
  ])('takes what is typed as it stands: %s, %s', async (list, search, names) => {
    expect(await namesOf(list, search)).toEqual(names);
  });
});
