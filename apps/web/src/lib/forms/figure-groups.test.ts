import type { Figures } from '@repo/calc/figures';
import { blankFigures, groupFigures, listGroup, pickFigures } from './figure-groups';

const PLANTED = {
  isLast: { type: 'answer', field: { group: 'main', place: 'last' } },
  pressure: { type: 'quantity', kind: 'pressure', field: { group: 'main' } },
  isFirst: { type: 'answer', field: { group: 'main', place: 'first' } },
  isAlways: { type: 'answer', isAlwaysSaid: true, field: { group: 'other' } },
  share: { type: 'number', least: 0, most: 1, field: { group: 'other' } },
  sort: { type: 'choice', choices: ['one', 'other'], field: { group: 'main' } },
} as const satisfies Figures;

describe('a figure that is planted', () => {
  it('begins unsaid in a form', () => {
    const blank = { isLast: null, pressure: null, isFirst: null, isAlways: false, share: null, sort: null };
    expect(blankFigures(PLANTED)).toEqual(blank);
  });

  it('stands in its group, at its place', () => {
    expect(listGroup(PLANTED, 'other')).toEqual(['isAlways', 'share']);
    const groups = groupFigures(PLANTED, {
      main: { before: ['name'], after: ['note'] },
      other: { title: 'circuit.trapped', isFolded: true },
    });
    expect(groups).toEqual([
      { fields: ['name', 'isFirst', 'pressure', 'sort', 'isLast', 'note'] },
      { fields: ['isAlways', 'share'], title: 'circuit.trapped', isFolded: true },
    ]);
  });

  it('is sent with the others of its table, and nothing else is', () => {
    const values = { ...blankFigures(PLANTED), name: 'A1', pressure: { value: 3, unit: 'bar' } };
    expect(pickFigures(PLANTED, values)).toEqual({ ...blankFigures(PLANTED), pressure: { value: 3, unit: 'bar' } });
  });
});
