import { checkFigures, COMPONENT_FIGURES, COMPONENT_KINDS, quantityOf } from '../src/index.js';

const refusedAt = (schema: ReturnType<typeof quantityOf>, value: unknown): string => {
  const parsed = schema.safeParse(value);
  return parsed.success ? 'taken' : parsed.error.issues.map((issue) => issue.path.join('.')).join(',');
};

describe('a quantity on the wire', () => {
  const pressure = quantityOf('pressure');

  it('is taken in any unit of its kind, digits kept', () => {
    for (const unit of ['bar', '[psi]', 'MPa', 'kPa', 'N/cm2']) {
      expect(pressure.parse({ value: 17.5, unit, digits: 1 })).toEqual({ value: 17.5, unit, digits: 1 });
    }
  });

  it('is refused at the part that is wrong', () => {
    expect(refusedAt(pressure, { value: 1, unit: 'mm' })).toBe('unit');
    expect(refusedAt(pressure, { value: -1, unit: 'bar' })).toBe('value');
    expect(refusedAt(pressure, { value: 0, unit: 'bar' })).toBe('value');
    expect(refusedAt(pressure, { value: 1e9, unit: 'bar' })).toBe('value');
    expect(refusedAt(pressure, { value: Number.NaN, unit: 'bar' })).toBe('value');
    expect(refusedAt(pressure, { value: 1, unit: 'bar', digit: 1 })).toBe('');
    expect(refusedAt(quantityOf('pressure', { zero: true }), { value: 0, unit: 'bar' })).toBe('taken');
    expect(refusedAt(quantityOf('temperature-difference', { zero: true }), { value: 3, unit: 'Cel' })).toBe('unit');
    expect(refusedAt(quantityOf('temperature'), { value: -5, unit: 'Cel' })).toBe('taken');
    expect(refusedAt(quantityOf('temperature'), { value: -300, unit: 'Cel' })).toBe('value');
    expect(refusedAt(quantityOf('temperature'), { value: -1, unit: 'K' })).toBe('value');
  });
});

describe('figures of a component', () => {
  const problems = (figures: Record<string, { value: number; unit: string; source: string }>) => {
    const found: string[] = [];
    checkFigures(figures, 'hose', ({ path }) => found.push(path.join('.')));
    return found;
  };

  it('are those that its kind has, in a unit of their kind', () => {
    expect(problems({ ratedPressure: { value: 4000, unit: '[psi]', source: 's' } })).toEqual([]);
    expect(problems({ ratedPressure: { value: 4000, unit: 'mm', source: 's' } })).toEqual([
      'figures.ratedPressure.unit',
    ]);
    expect(problems({ pistonRatio: { value: 40, unit: '1', source: 's' } })).toEqual(['figures.pistonRatio']);
  });

  it('every kind that sees oil under pressure can carry a rating; the others cannot', () => {
    const unrated = COMPONENT_KINDS.filter((kind) => !('ratedPressure' in COMPONENT_FIGURES[kind]));
    expect(unrated).toEqual(['reservoir', 'relay', 'power-supply']);
  });
});
