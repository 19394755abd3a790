import { COMPONENT_FIGURES, type ComponentFigureName, type ComponentKind } from '@repo/calc/figures';
import { en } from '../../messages/en';
import { speakWhole, toMessage, type MessageKey, type MessageParameters } from '../../messages';
import { listFigureDoubts } from './doubts';

beforeAll(() => speakWhole(en));

const say = (key: MessageKey, parameters?: MessageParameters): string => toMessage('en', key, parameters);
const sourced = (value: number, unit: string) => ({ value, unit, source: 'data sheet' });
type Typed = Parameters<typeof listFigureDoubts>[1];
const ask = (kind: ComponentKind, figures: Typed, former: Typed = {}): string[] =>
  listFigureDoubts({ kind, name: 'Valve 12' }, figures, former, 'bar', say);

describe('the figures of a component type', () => {
  it('are asked about in another unit’s size, ten times off, and a share that was typed as per cent', () => {
    expect(ask('pump', { ratedPressure: sourced(5000, 'bar'), stallEfficiency: sourced(97, '1') })).toEqual([
      'Rated pressure 5000 bar is outside what is usual, 50 bar to 1000 bar. 5000 psi would be within it: is the unit right?',
      'Stall efficiency 97 is outside what is usual, 0.5 to 1. 97 % would be within it: is the unit right?',
    ]);
    expect(ask('hose', { ratedPressure: sourced(70, 'bar') }, { ratedPressure: sourced(700, 'bar') })).toHaveLength(1);
  });

  it('are asked about above the rating of the component itself, unless they are meant to be', () => {
    const rated = { ratedPressure: sourced(350, 'bar') };
    expect(ask('relief-valve', { ...rated, openingPressure: sourced(360, 'bar') })).toEqual([
      'Opening pressure 360 bar is above the rating of Valve 12: 350 bar.',
    ]);
    expect(ask('hose', { ...rated, burstPressure: sourced(1400, 'bar') })).toEqual([]);
    expect(ask('gauge', { ...rated, span: sourced(400, 'bar') })).toEqual([]);
  });

  it('stay unasked where they are of air, and as they were', () => {
    expect(ask('pressure-regulator', { ratedPressure: sourced(10, 'bar'), drift: sourced(0.05, 'bar') })).toEqual([]);
    const strange = { ratedPressure: sourced(5000, 'bar') };
    expect(ask('pump', strange, strange)).toEqual([]);
  });

  it('all have a hint, and usual bounds in a unit of their kind', () => {
    for (const [kind, figures] of Object.entries(COMPONENT_FIGURES))
      for (const [name, { kind: quantity }] of Object.entries(figures)) {
        expect(say(`componentFigureHint.${name as ComponentFigureName}`)).not.toBe('');
        const units = { pressure: 'bar', modulus: 'MPa', ratio: '1' } as Partial<Record<string, string>>;
        const huge = { [name]: sourced(9e12, units[quantity] ?? 'a') };
        if (units[quantity] !== undefined) expect([name, ask(kind as ComponentKind, huge).length]).toEqual([name, 1]);
      }
  });
});
