import {
  checkFigures,
  COMPONENT_FIGURES,
  COMPONENT_KINDS,
  createSignalBodySchema,
  cutSchema,
  quantityOf,
} from '../src/index.js';

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

  it.each([5e-324, 1e-300, 1e-30])('of %s is no size: what is made of it would be no number any more', (value) => {
    for (const [kind, unit] of [
      ['pressure', 'Pa'],
      ['power', 'W'],
      ['length', 'm'],
    ] as const) {
      expect(refusedAt(quantityOf(kind, { zero: true }), { value, unit })).toBe('value');
      expect(refusedAt(quantityOf(kind, { zero: true, negative: true }), { value: -value, unit })).toBe('value');
    }
    expect(refusedAt(quantityOf('temperature'), { value, unit: 'K' })).toBe('value');
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

  it('that are plain numbers are none so small that nothing could be computed with them', () => {
    const found: string[] = [];
    const figures = { stallEfficiency: { value: 5e-324, unit: '1', source: 's' } };
    checkFigures(figures, 'pump', ({ path }) => found.push(path.join('.')));
    expect(found).toEqual(['figures.stallEfficiency.value']);
  });

  it('every kind that sees oil under pressure can carry a rating; the others cannot', () => {
    const unrated = COMPONENT_KINDS.filter((kind) => !('ratedPressure' in COMPONENT_FIGURES[kind]));
    expect(unrated).toEqual(['reservoir', 'relay', 'power-supply']);
  });
});

describe('plain numbers of a record', () => {
  const signal = { id: '0190a000-0000-7000-8000-000000000001', machineId: '0190a000-0000-7000-8000-000000000002' };
  const takes = (suppressionVoltageV: number): boolean =>
    createSignalBodySchema.safeParse({ ...signal, direction: 'output', name: 'Y1', suppressionVoltageV }).success;

  it('are zero, or a size that something can be', () => {
    expect([takes(0), takes(33), takes(1e-3)]).toEqual([true, true, true]);
    expect([takes(5e-324), takes(1e-300)]).toEqual([false, false]);
  });

  it('that point somewhere have a length', () => {
    const cut = (x: number) => cutSchema.safeParse({ method: 'drilling', toolAxis: { x, y: 0, z: 0 } }).success;
    expect([cut(1), cut(-0.001), cut(1e5)]).toEqual([true, true, true]);
    expect([cut(0), cut(5e-324), cut(1e308), cut(1e200)]).toEqual([false, false, false, false]);
  });
});
