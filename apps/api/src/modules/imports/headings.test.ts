import { columnsOfEntity, fieldsOfEntity, FORM_LABELS, IMPORT_ENTITIES, type ImportEntity } from '@repo/contracts';
import { describeFile } from './describe-file.js';
import { splitHeading, suggestFields } from './headings.js';

describe('the unit at the end of a heading', () => {
  it.each([
    ['Setting [bar]', 'Setting', 'bar'],
    ['pressure (psi) ', 'pressure', 'psi'],
    ['Setting\n(bar)', 'Setting', 'bar'],
    ['Oil (cold) [mm2/s]', 'Oil (cold)', 'mm2/s'],
    ['Rod (see (3)', 'Rod', 'see (3'],
    ['[bar]', '[bar]', null],
    ['Setting ()', 'Setting ()', null],
    ['Setting bar]', 'Setting bar]', null],
    ['  Setting ', 'Setting', null],
    [')', ')', null],
  ])('%j', (heading, name, unit) => {
    expect(splitHeading(heading)).toEqual({ name, unit });
  });

  // Each took 20 s and more, and stopped everything else, when it was looked for from every place.
  it.each(['(', '[', ' ', '( ', '\u00a0'])('is looked for once in a heading of many %j', (piece) => {
    const middle = piece.repeat(100_000);
    const began = performance.now();
    expect(splitHeading(`a${middle}b`)).toEqual({ name: `a${middle}b`, unit: null });
    expect(suggestFields([`a${middle}b`, 'Customer'], middle)).toEqual([null, 'customer.name']);
    expect(performance.now() - began).toBeLessThan(2_000);
  });
});

it('a sheet may be as long as a file may have rows', () => {
  const rows = Array.from({ length: 200_000 }, (_, index) => ({
    n: index + 1,
    cells: [index === 0 ? 'Customer' : 'A'],
  }));
  const sheet = { name: 'base', hidden: false, rows, hiddenColumns: [], merged: [] };
  const { reading } = describeFile({ format: 'csv', notes: [], sheets: [sheet] });
  expect(reading.sheets[0]).toMatchObject({ rows: 199_999, headerRow: 1 });
});

describe('the words of a form as headings', () => {
  const headingsOf = (entity: ImportEntity): { key: string; heading: string }[] => {
    const labels = fieldsOfEntity(entity).map(({ key, header }) => ({ key, heading: FORM_LABELS[key] ?? header }));
    const parents = columnsOfEntity(entity).filter((field) => field.entity !== entity);
    return [...parents.map(({ key, header }) => ({ key, heading: header })), ...labels];
  };

  it.each(IMPORT_ENTITIES.map((entity): [ImportEntity] => [entity]))('are known, all of a %s together', (entity) => {
    const columns = headingsOf(entity);
    const suggested = suggestFields(
      columns.map(({ heading }) => heading),
      `${entity}s.csv`,
    );
    const read = columns.map(({ heading }, index) => [heading, suggested[index]]);
    expect(read).toEqual(columns.map(({ heading, key }) => [heading, key]));
  });

  it.each(IMPORT_ENTITIES.flatMap((entity) => fieldsOfEntity(entity).map(({ key }): [string] => [key])))(
    '%s: known alone, in a sheet that says what it lists',
    (key) => {
      const entity = IMPORT_ENTITIES.find((one) => key.startsWith(`${one}.`)) as ImportEntity;
      const found = headingsOf(entity).find((one) => one.key === key);
      expect([found?.heading, ...suggestFields([found?.heading ?? ''], entity)]).toEqual([found?.heading, key]);
    },
  );

  it('of a circuit are known without a title, by those beside them', () => {
    const headings = ['Customer', 'Machine', 'Circuit', 'Can oil be trapped in it?', 'Clamp time allowed', 'Note'];
    expect(suggestFields(headings, 'list 4')).toEqual([
      'customer.name',
      'machine.name',
      'circuit.name',
      'circuit.canTrap',
      'circuit.clampTimeAllowed',
      'circuit.note',
    ]);
  });
});

describe('a list without a title that says what it is', () => {
  it.each([
    [
      ['Name', 'Kind', 'Rated pressure [bar]', 'Bore', 'Rod diameter', 'Source'],
      ['name', 'kind', 'ratedPressure', 'bore', 'rod', 'figuresSource'].map((name) => `component-type.${name}`),
    ],
    [
      ['Customer', 'Fixture', 'Name', 'Kind', 'How many', 'Bore', 'Rod'],
      [
        'customer.name',
        'fixture.name',
        ...['name', 'kind', 'quantity', 'bore', 'rod'].map((name) => `fixture-element.${name}`),
      ],
    ],
    [
      ['Customer', 'Fixture', 'Number', 'Name', 'Tool', 'Required pressure'],
      [
        'customer.name',
        'fixture.name',
        ...['number', 'name', 'tool', 'requiredPressure'].map((name) => `operation.${name}`),
      ],
    ],
    // What was measured and what was released are called alike: what was measured needs no title.
    [
      ['Customer', 'Machine', 'Circuit', 'Setting', 'Set point', 'Reset point', 'Why'],
      [
        ...['customer.name', 'machine.name', 'circuit.name'],
        ...['setting', 'setPoint', 'resetPoint', 'reason'].map((name) => `setup-record.${name}`),
      ],
    ],
  ])('%j', (headings, fields) => {
    expect(suggestFields(headings, 'list 4')).toEqual(fields);
  });
});

describe('a heading that could be of several', () => {
  it.each([
    [
      ['Machine', 'Component', 'Component type', 'Serial'],
      [
        'machine.name',
        'installed-component.designation',
        'installed-component.componentType',
        'installed-component.serial',
      ],
    ],
    [
      ['Machine', 'Item', 'Component', 'Serial'],
      [
        'machine.name',
        'installed-component.designation',
        'installed-component.componentType',
        'installed-component.serial',
      ],
    ],
    // Three words for two fields: the third is nobody's, and least of all a signal's.
    [
      ['Machine', 'Item', 'Component type', 'Component'],
      ['machine.name', 'installed-component.designation', 'installed-component.componentType', null],
    ],
    [
      ['Lowest plant air', 'Highest air at the regulator'],
      ['power-unit.plantAirLow', 'power-unit.plantAirHigh'],
    ],
    // Several things in one row: what only one field is called is that field's where something of its kind stands beside it.
    [
      ['Customer', 'Fixture', 'Element', 'Element: stroke', 'Element: bore', 'Operation', 'Method', 'Feed', 'Kind'],
      [
        ...['customer.name', 'fixture.name', 'fixture-element.name', 'fixture-element.stroke', 'fixture-element.bore'],
        ...['operation.number', 'operation.method', 'operation.feed', null],
      ],
    ],
    [
      ['Customer', 'Machine', 'Form', 'Model', 'Feed'],
      ['customer.name', 'machine.name', 'machine.form', 'machine.model', null],
    ],
    // A machine has no note: it is not written to its customer.
    [
      ['Customer', 'Machine', 'Form', 'Model', 'Note'],
      ['customer.name', 'machine.name', 'machine.form', 'machine.model', null],
    ],
  ])('%j', (headings, fields) => {
    expect(suggestFields(headings, 'list 4')).toEqual(fields);
  });
});
