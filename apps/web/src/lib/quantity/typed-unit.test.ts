import { adoptTypedUnit } from './typed-unit';

describe('adoptTypedUnit', () => {
  it.each([
    ['2030 psi', 'bar', '2030', '[psi]'],
    ['0,62 MPa', 'bar', '0,62', 'MPa'],
    ['1 234,5 psi', 'bar', '1 234,5', '[psi]'],
    ['3000psi', 'bar', '3000', '[psi]'],
    ['5e2 bar', 'MPa', '5e2', 'bar'],
  ])('moves the unit of "%s" to where the unit stands', (text, unit, number, adopted) => {
    expect(adoptTypedUnit({ text, unit }, 'pressure')).toEqual({ text: number, unit: adopted });
  });

  it.each(['178', '', 'about 20', '20 furlongs', '20 kPa', '3,000 psi'])('leaves "%s" as it was typed', (text) => {
    const draft = { text, unit: 'bar' };
    expect(adoptTypedUnit(draft, 'pressure')).toBe(draft);
  });

  it('keeps the per cent beside a number that is typed without one', () => {
    const draft = { text: '97', unit: '%' };
    expect(adoptTypedUnit(draft, 'ratio')).toBe(draft);
    expect(adoptTypedUnit({ text: '97 %', unit: '1' }, 'ratio')).toEqual({ text: '97', unit: '%' });
  });
});
