import {
  CIRCUIT_FIGURES,
  ELEMENT_FIGURES,
  FIXTURE_FIGURES,
  MACHINE_FIGURES,
  POWER_UNIT_FIGURES,
  type Figure,
  type Figures,
} from '@repo/calc/figures';
import { z } from 'zod';
import { answersOf, defaultsOf, rulesOf } from '../src/common/figure-rules.js';
import { fieldsOfFigures } from '../src/imports/figure-columns.js';
import {
  circuitSchema,
  createCircuitBodySchema,
  createFixtureBodySchema,
  createMachineBodySchema,
  createPowerUnitBodySchema,
  fieldsOfEntity,
  fixtureElementSchema,
  fixtureSchema,
  machineSchema,
  powerUnitSchema,
  updateCircuitBodySchema,
  updateFixtureBodySchema,
  updateMachineBodySchema,
  updatePowerUnitBodySchema,
  type ImportEntity,
} from '../src/index.js';

const PLANTED = {
  ...CIRCUIT_FIGURES,
  plantedStroke: {
    type: 'quantity',
    kind: 'length',
    isZeroAllowed: true,
    column: { header: 'Planted stroke', synonyms: ['stroke'] },
    field: { group: 'main', unit: 'mm' },
  },
  plantedAnswer: { type: 'answer', column: { header: 'Planted answer' }, field: { group: 'main' } },
  plantedCount: {
    type: 'number',
    isWhole: true,
    least: 0,
    isAboveLeast: true,
    most: 9,
    column: { header: 'Planted count' },
    field: { group: 'main' },
  },
  plantedChoice: {
    type: 'choice',
    choices: ['one', 'other'],
    column: { header: 'Planted choice' },
    field: { group: 'main' },
  },
  plantedInside: { type: 'answer', field: { group: 'main' } },
} as const satisfies Figures;

describe('a figure that is planted', () => {
  const given = {
    plantedStroke: { value: 0, unit: 'mm', digits: 1 },
    plantedAnswer: false,
    plantedCount: 3,
    plantedChoice: 'other',
    plantedInside: true,
  } as const;
  const change = z.strictObject(rulesOf(PLANTED)).partial();
  const create = z.strictObject(defaultsOf(PLANTED));
  const out = z.strictObject(answersOf(PLANTED));

  it('is taken in, left out and given back by the contract', () => {
    expect(change.parse(given)).toEqual(given);
    expect(change.parse({})).toEqual({});
    const made = create.parse({});
    // The compiler knows it by its name and its type as well.
    const choice: 'one' | 'other' | null = made.plantedChoice;
    expect([choice, made.plantedStroke, made.plantedAnswer, made.plantedCount]).toEqual([null, null, null, null]);
    expect(made.hasReducingValve).toBe(false);
    expect(out.parse({ ...made, ...given })).toEqual({ ...made, ...given });
  });

  it.each([
    ['a unit of another kind', { plantedStroke: { value: 1, unit: 'bar' } }],
    ['less than zero', { plantedStroke: { value: -1, unit: 'mm' } }],
    ['the least itself', { plantedCount: 0 }],
    ['too much', { plantedCount: 10 }],
    ['part of a whole', { plantedCount: 1.5 }],
    ['none of its choices', { plantedChoice: 'third' }],
    ['no answer', { plantedAnswer: 'yes' }],
    ['nothing, where it is always said', { hasReducingValve: null }],
  ])('is refused as %s', (_what, body) => {
    expect(change.safeParse(body).success).toBe(false);
  });

  it('has a column in spreadsheets where it says so', () => {
    const fields = fieldsOfFigures('circuit', PLANTED);
    expect(fields.slice(fieldsOfFigures('circuit', CIRCUIT_FIGURES).length)).toEqual([
      {
        ...{ key: 'circuit.plantedStroke', entity: 'circuit', name: 'plantedStroke', header: 'Planted stroke' },
        ...{ type: 'quantity', kind: 'length', zero: true, synonyms: ['stroke'] },
      },
      {
        ...{ key: 'circuit.plantedAnswer', entity: 'circuit', name: 'plantedAnswer', header: 'Planted answer' },
        type: 'boolean',
      },
      {
        ...{ key: 'circuit.plantedCount', entity: 'circuit', name: 'plantedCount', header: 'Planted count' },
        ...{ type: 'integer', min: 0, max: 9 },
      },
      {
        ...{ key: 'circuit.plantedChoice', entity: 'circuit', name: 'plantedChoice', header: 'Planted choice' },
        ...{ type: 'choice', choices: ['one', 'other'] },
      },
    ]);
  });
});

interface Shape {
  readonly shape: Readonly<Record<string, unknown>>;
}
/** Fields that are no figures: who and what a record is, and what is said of it in words. */
const isFigure = (schema: unknown): boolean => {
  const inner = JSON.stringify(z.toJSONSchema(schema as z.ZodType, { io: 'input', unrepresentable: 'any' }));
  return /"type":"(number|integer|boolean)"/.test(inner) && !inner.includes('"type":"array"');
};

const RECORDS: readonly [string, Figures, Shape[]][] = [
  ['circuit', CIRCUIT_FIGURES, [createCircuitBodySchema, updateCircuitBodySchema, circuitSchema]],
  ['power unit', POWER_UNIT_FIGURES, [createPowerUnitBodySchema, updatePowerUnitBodySchema, powerUnitSchema]],
  ['machine', MACHINE_FIGURES, [createMachineBodySchema, updateMachineBodySchema, machineSchema]],
  ['fixture', FIXTURE_FIGURES, [createFixtureBodySchema, updateFixtureBodySchema, fixtureSchema]],
  ['element', ELEMENT_FIGURES, [fixtureElementSchema]],
];

describe('every figure', () => {
  it.each(RECORDS)('of a %s is in each of its contracts, and none is beside the table', (_record, figures, schemas) => {
    const names = Object.keys(figures);
    const besides = ['archived', 'version', 'controlBehaviour', 'quantity'];
    for (const { shape } of schemas) {
      expect(Object.keys(shape)).toEqual(expect.arrayContaining(names));
      const found = Object.keys(shape).filter((name) => isFigure(shape[name]) && !besides.includes(name));
      expect(found.filter((name) => !names.includes(name))).toEqual([]);
    }
  });

  it.each([
    ['circuit', CIRCUIT_FIGURES],
    ['power-unit', POWER_UNIT_FIGURES],
    ['machine', MACHINE_FIGURES],
    ['fixture', FIXTURE_FIGURES],
  ] as const)('of a %s with a column is imported and exported', (entity: ImportEntity, figures: Figures) => {
    const fields = fieldsOfEntity(entity).map(({ name }) => name);
    const inColumns = Object.entries<Figure>(figures).filter(([, { column }]) => column !== undefined);
    expect(fields).toEqual(expect.arrayContaining(inColumns.map(([name]) => name)));
  });
});
