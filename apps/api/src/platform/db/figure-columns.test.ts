import type { Figures } from '@repo/calc/figures';
import { CIRCUIT_FIGURES } from '@repo/calc/figures';
import { figuresFrom } from '../http/figures-out.js';
import { selectFacts, splitFigures } from './figure-columns.js';
import { Prisma } from './generated/client.js';

const PLANTED = {
  ...CIRCUIT_FIGURES,
  plantedStroke: { type: 'quantity', kind: 'length', worse: 'higher', field: { group: 'main', unit: 'mm' } },
  plantedAnswer: { type: 'answer', worse: 'false', field: { group: 'main' } },
  plantedChoice: { type: 'choice', choices: ['one', 'other'], field: { group: 'main' } },
} as const satisfies Figures;

describe('a figure that is planted', () => {
  it('becomes columns, a quantity as typed and in SI; what is no figure stays beside', () => {
    const stroke = { value: 20, unit: 'mm', digits: 0 };
    const body = {
      name: 'A1',
      note: undefined,
      plantedStroke: stroke,
      plantedAnswer: false,
      plantedChoice: 'one',
    } as const;
    expect(splitFigures(PLANTED, body)).toEqual({
      columns: { plantedStrokeM: 0.02, plantedStrokeEntered: stroke, plantedAnswer: false, plantedChoice: 'one' },
      rest: { name: 'A1' },
    });
  });

  it('is taken out of its columns by null, and left alone where a change does not name it', () => {
    const { columns } = splitFigures(PLANTED, { plantedStroke: null, plantedAnswer: undefined });
    expect(columns).toEqual({ plantedStrokeM: null, plantedStrokeEntered: Prisma.DbNull });
  });

  it('comes out of its row as it was typed', () => {
    const { plantedStroke, plantedAnswer, plantedChoice } = PLANTED;
    const row = {
      ...{ plantedStrokeM: 0.02, plantedStrokeEntered: { value: 20, unit: 'mm', digits: 0 } },
      ...{ plantedAnswer: null, plantedChoice: 'other', name: 'A1' },
    };
    const out = figuresFrom({ plantedStroke, plantedAnswer, plantedChoice }, row);
    // The compiler knows it by its name and its type as well.
    const choice: 'one' | 'other' | null = out.plantedChoice;
    expect(choice).toBe('other');
    expect(out).toEqual({
      plantedStroke: { value: 20, unit: 'mm', digits: 0 },
      plantedAnswer: null,
      plantedChoice: 'other',
    });
  });

  it('is read for proofs where one reads it', () => {
    const { sql } = selectFacts(PLANTED);
    expect(sql).toContain('planted_stroke_m AS "plantedStrokeM", planted_answer AS "plantedAnswer"');
    expect(sql).not.toContain('planted_choice');
  });
});
