import { DIRECTIONS } from '../src/circuit-facts/directions.js';
import {
  COMPONENT_FIGURES,
  CIRCUIT_FIGURES,
  ELEMENT_FIGURES,
  factNameOf,
  FIXTURE_FIGURES,
  listFactNames,
  listTooLow,
  MACHINE_FIGURES,
  mapFigures,
  pickControlFacts,
  pickFacts,
  POWER_UNIT_FIGURES,
  toWords,
  unsaidOf,
  type Figure,
  type Figures,
} from '../src/figures/index.js';
import { directionsOf } from '../src/figures/read-figures.js';

const PLANTED = {
  ...CIRCUIT_FIGURES,
  plantedStroke: { type: 'quantity', kind: 'length', worse: 'higher', field: { group: 'main', unit: 'mm' } },
  plantedAnswer: { type: 'answer', worse: 'false', seenByControl: 'too', field: { group: 'main' } },
  plantedYes: { type: 'answer', isAlwaysSaid: true, worse: 'true', field: { group: 'main' } },
  plantedChoice: {
    type: 'choice',
    choices: ['one', 'other'],
    worse: 'either',
    seenByControl: 'alone',
    field: { group: 'main' },
  },
  plantedNote: { type: 'number', least: 0, most: 9, field: { group: 'main' } },
} as const satisfies Figures;

describe('a figure that is planted', () => {
  it('is among the facts, in SI, where a proof reads it', () => {
    expect(listFactNames(PLANTED)).toEqual([
      ...listFactNames(CIRCUIT_FIGURES),
      ...['plantedStrokeM', 'plantedAnswer', 'plantedYes', 'plantedChoice'],
    ]);
    const facts = pickFacts(PLANTED, { plantedStrokeM: 0.02, plantedAnswer: false });
    // The compiler knows it by its name and its type as well.
    const known: { stroke: number | null; answer: boolean | null; always: boolean } = {
      stroke: facts.plantedStrokeM,
      answer: facts.plantedAnswer,
      always: facts.plantedYes,
    };
    expect(known).toEqual({ stroke: 0.02, answer: false, always: false });
    expect(Object.keys(facts)).not.toContain('plantedChoice');
    expect(Object.keys(facts)).not.toContain('plantedNote');
  });

  it('is among what the control sees, where it says so', () => {
    const seen = pickControlFacts(PLANTED, { plantedChoice: 'other', isCheckHeld: true });
    const choice: 'one' | 'other' | null = seen.plantedChoice;
    expect(choice).toBe('other');
    expect(seen).toEqual({ valveBehaviour: null, isCheckHeld: true, plantedAnswer: null, plantedChoice: 'other' });
  });

  it('is in whatever is made of each figure of its table', () => {
    const names = mapFigures<Record<keyof typeof PLANTED, string>>(PLANTED, (figure, name) => factNameOf(name, figure));
    expect(Object.keys(names)).toEqual(Object.keys(PLANTED));
    expect([names.plantedStroke, names.plantedNote]).toEqual(['plantedStrokeM', 'plantedNote']);
  });

  it('declares its direction', () => {
    expect(directionsOf(PLANTED)).toEqual({
      ...directionsOf(CIRCUIT_FIGURES),
      plantedStrokeM: 'higher',
      plantedAnswer: 'false',
      plantedYes: 'true',
      plantedChoice: 'either',
    });
  });
});

describe('figures', () => {
  const tables: Readonly<Record<string, Figures>> = {
    circuit: CIRCUIT_FIGURES,
    powerUnit: POWER_UNIT_FIGURES,
    machine: MACHINE_FIGURES,
    fixture: FIXTURE_FIGURES,
  };

  it.each(Object.entries(tables))('of a %s: whatever a proof reads has its direction', (name, figures) => {
    const ways = (DIRECTIONS as Readonly<Record<string, object>>)[name] ?? {};
    expect(Object.keys(ways)).toEqual(listFactNames(figures));
  });

  it('of an element have a direction for clamps and for supports', () => {
    const read = Object.entries<Figure>(ELEMENT_FIGURES).filter(([, { worse }]) => worse !== undefined);
    const names = read.map(([name, figure]) => factNameOf(name, figure));
    expect(Object.keys(DIRECTIONS.element.clamp)).toEqual([...names, 'quantity']);
    expect(Object.keys(DIRECTIONS.element.support)).toEqual([...names, 'quantity']);
    expect(directionsOf(ELEMENT_FIGURES)).toEqual({});
  });

  it('are not said, or are a no, until somebody says them', () => {
    const nos = Object.values(tables).flatMap((figures) =>
      Object.entries(figures).flatMap(([name, figure]) => (unsaidOf(figure) === false ? [name] : [])),
    );
    expect(nos).toEqual(['hasReducingValve']);
  });

  it('of an element are told where one lies below what it cannot be below: a bore below its rod, a rating below what it needs', () => {
    const tooLow = (si: Record<string, number>) => listTooLow(ELEMENT_FIGURES, (name) => si[name] ?? null);
    expect(tooLow({ bore: 0.02, rod: 0.025 })).toEqual([{ figure: 'bore', other: 'rod', mayEqual: true }]);
    expect(tooLow({ bore: 0.02, rod: 0.02, ratedPressure: 1e7, leastWorkingPressure: 2e7 })).toEqual([
      { figure: 'ratedPressure', other: 'leastWorkingPressure', mayEqual: true },
    ]);
    expect(tooLow({ bore: 0.02, leastWorkingPressure: 2e7 })).toEqual([]);
    const { hose } = COMPONENT_FIGURES;
    expect(listTooLow(hose, () => 2e7)).toEqual([{ figure: 'burstPressure', other: 'ratedPressure', mayEqual: false }]);
    expect(listTooLow(hose, (name) => (name === 'burstPressure' ? 8e7 : 2e7))).toEqual([]);
    expect(toWords('leastWorkingPressure')).toBe('least working pressure');
  });
});
