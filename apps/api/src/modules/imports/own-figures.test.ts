import { readOwnFigures, toOwnText } from './own-figures.js';

const read = (text: string) => {
  const found = readOwnFigures(text);
  if ('got' in found) throw new Error(found.got);
  return found.figures;
};

describe('figures of its own, in one cell', () => {
  it('are names, values with their units, and sources in brackets', () => {
    expect(read('inner diameter = 6 mm [measured]; Stall Efficiency = 0.98 [drawing]')).toEqual({
      innerDiameter: { value: 6, unit: 'mm', digits: 0, source: 'measured', si: 0.006 },
      stallEfficiency: { value: 0.98, unit: '1', source: 'drawing', si: 0.98 },
    });
    expect(read('')).toEqual({});
  });

  it.each(['measured', 'sheet [4]; page 2', 'a \\ b', ']', '\\]', 'x = 1 [y]'])(
    'read back as written: %s',
    (source) => {
      const figures = {
        bore: { value: 40, unit: 'mm', digits: 0, source, si: 0.04 },
        stroke: { value: 12.5, unit: 'mm', digits: 1, source, si: 0.0125 },
      };
      expect(read(toOwnText(figures))).toEqual(figures);
    },
  );

  it.each([
    ['bore', 'bore'],
    ['bore = 40 mm', 'bore = 40 mm'],
    ['bore = 40 mm []', 'bore = 40 mm []'],
    ['bore = 40 bar [x]', 'bore = 40 bar [x]'],
    ['bore = wide [x]', 'bore = wide [x]'],
    ['girth = 4 mm [x]', 'girth = 4 mm [x]'],
    ['bore = 4 mm [x]; bore = 5 mm [x]', 'bore = 5 mm [x]'],
    ['bore = 4 mm [x] and more', 'bore = 4 mm [x] and more'],
    ['bore = 4 mm [x]; stroke', 'stroke'],
    [`bore = 4 mm [x]${' '.repeat(300)}more`, `bore = 4 mm [x]${' '.repeat(45)}`.trim()],
  ])('%s: what cannot be read is shown', (text, got) => {
    expect(readOwnFigures(text)).toEqual({ got });
  });

  it.each(['[psi]', '[in_i]', 'MPa', '[lbf_av]'])('read back in %s, whose name has brackets of its own', (unit) => {
    const figure = unit === '[in_i]' ? 'bore' : unit === '[lbf_av]' ? 'friction' : 'ratedPressure';
    const [written] = toOwnText({ [figure]: { value: 3000, unit, digits: 0, source: 'drawing [3]', si: 1 } }).split(
      '; ',
    );
    expect(read(written ?? '')).toEqual({
      [figure]: expect.objectContaining({ value: 3000, unit, source: 'drawing [3]' }),
    });
  });

  // Two thousand spaces took ten seconds, twenty thousand hours, when an expression looked for the pieces.
  it.each([
    ' '.repeat(20_000),
    `a${' '.repeat(19_990)}a`,
    `bore =${' '.repeat(19_990)}a`,
    `bore = 4${' '.repeat(19_980)}mm`,
    `bore = 4 mm [${'['.repeat(19_900)}`,
    `bore = 4 mm${' []'.repeat(6_600)}`,
    '=['.repeat(10_000),
  ])('as long as a cell may be, it is looked at once', (text) => {
    const began = performance.now();
    readOwnFigures(text);
    expect(performance.now() - began).toBeLessThan(200);
  });
});
