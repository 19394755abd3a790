import { en } from '../../messages/en';
import { speakWhole, toMessage, type MessageKey, type MessageParameters } from '../../messages';
import { doubtOfFigure, type DoubtedFigure } from './figure-doubts';

beforeAll(() => speakWhole(en));

const say = (key: MessageKey, parameters?: MessageParameters): string => toMessage('en', key, parameters);
const rated: DoubtedFigure = {
  label: 'Rated pressure',
  kind: 'pressure',
  value: { value: 350, unit: 'bar' },
  former: null,
  rating: null,
  usual: { low: 50, high: 1000, unit: 'bar' },
};
const ask = (change: Partial<DoubtedFigure>): string | null => doubtOfFigure({ ...rated, ...change }, 'bar', say);

describe('a figure of a component or of a fixture', () => {
  it('is not asked about where it is usual, or is as it was', () => {
    expect(ask({})).toBeNull();
    expect(ask({ value: { value: 5075, unit: '[psi]' } })).toBeNull();
    expect(ask({ value: { value: 3500, unit: 'bar' }, former: { value: 3500, unit: 'bar' } })).toBeNull();
    expect(ask({ value: { value: 0, unit: 'bar' } })).toBeNull();
  });

  it('is asked about in another unit’s size, with the unit that would fit', () => {
    expect(ask({ value: { value: 5075, unit: 'bar' } })).toBe(
      'Rated pressure 5075 bar is outside what is usual, 50 bar to 1000 bar. 5075 psi would be within it: is the unit right?',
    );
    expect(ask({ value: { value: 35, unit: 'bar' }, former: { value: 350, unit: 'bar' } })).toBe(
      'Rated pressure 35 bar is far from what was saved before: 350 bar. 35 MPa would be near it: is the unit right?',
    );
    const bore = { label: 'Bore', kind: 'length', usual: { low: 5, high: 200, unit: 'mm' } } as const;
    expect(ask({ ...bore, value: { value: 1.25, unit: 'mm' } })).toBe(
      'Bore 1.25 mm is outside what is usual, 5 mm to 200 mm. 1.25 in would be within it: is the unit right?',
    );
    expect(ask({ ...bore, value: { value: 25, unit: 'mm' }, former: { value: 1, unit: '[in_i]' } })).toBeNull();
  });

  it('is asked about ten times off what it was, and outside what is usual in any unit', () => {
    expect(ask({ value: { value: 400, unit: 'bar' }, former: { value: 40, unit: 'bar' } })).toBe(
      'Rated pressure 400 bar is ten times off or more, compared with what was saved before: 40 bar.',
    );
    expect(ask({ value: { value: 210, unit: 'bar' }, former: { value: 350, unit: 'bar' } })).toBeNull();
    const stroke = { label: 'Stroke', kind: 'length', usual: { low: 0.5, high: 500, unit: 'mm' } } as const;
    expect(ask({ ...stroke, value: { value: 12000, unit: 'm' } })).toContain(
      'is outside what is usual, 0.5 mm to 500 mm',
    );
  });

  it('is asked about above a rating, in the unit of the page', () => {
    const rating = { name: 'Swing clamps', quantity: { value: 3626, unit: '[psi]' } };
    expect(ask({ rating })).toBe('Rated pressure 350 bar is above the rating of Swing clamps: 250.0 bar.');
    expect(ask({ value: { value: 240, unit: 'bar' }, rating })).toBeNull();
  });
});
