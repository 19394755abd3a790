import type { Figures } from '@repo/calc/figures';
import { fieldsOfEntity } from '@repo/contracts';
import { figuresOf, TABLE_ENTITIES, TABLES, type TableEntity } from './entity-tables.js';

const PLANTED = {
  stroke: {
    type: 'quantity',
    kind: 'length',
    column: { header: 'Stroke' },
    field: { group: 'main', unit: 'mm' },
  },
  isPlanted: { type: 'answer', column: { header: 'Planted' }, field: { group: 'main' } },
  isAlways: { type: 'answer', isAlwaysSaid: true, column: { header: 'Always' }, field: { group: 'main' } },
  howMany: {
    type: 'number',
    isWhole: true,
    least: 0,
    most: 9,
    column: { header: 'How many' },
    field: { group: 'main' },
  },
  railV: {
    type: 'number',
    least: 0,
    most: 99,
    column: { header: 'Rail', kind: 'voltage', unit: 'V' },
    field: { group: 'main' },
  },
  sort: { type: 'choice', choices: ['one', 'other'], column: { header: 'Sort' }, field: { group: 'main' } },
  inside: { type: 'answer', field: { group: 'main' } },
} as const satisfies Figures;

/** What a row is found by, and what is not a column of its own. */
const ELSEWHERE = [
  'component-type.figuresSource',
  'component-type.reason',
  'machine.stations',
  'installed-component.componentType',
  'signal.component',
];

describe('where an import writes', () => {
  it('has the columns of a figure that is planted, where it has one in a spreadsheet', () => {
    expect(figuresOf(PLANTED)).toEqual([
      { field: 'stroke', column: 'stroke_m', type: 'float8', entered: 'stroke_entered' },
      { field: 'isPlanted', column: 'is_planted', type: 'bool' },
      { field: 'isAlways', column: 'is_always', type: 'bool', fallback: false },
      { field: 'howMany', column: 'how_many', type: 'int4' },
      { field: 'railV', column: 'rail_v', type: 'float8', unit: 'V' },
      { field: 'sort', column: 'sort', type: 'text' },
    ]);
  });

  it.each(TABLE_ENTITIES.map((entity): [TableEntity] => [entity]))('has a column for each field of a %s', (entity) => {
    const fields = fieldsOfEntity(entity).filter(({ key }) => !ELSEWHERE.includes(key));
    const { fields: plain, derived = [] } = TABLES[entity];
    const columns = [...plain.map(({ field }) => field), ...derived.flatMap((one) => one.fields)];
    expect(columns.sort()).toEqual(fields.map(({ name }) => name).sort());
  });
});
