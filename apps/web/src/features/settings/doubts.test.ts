import { en } from '../../messages/en';
import { speakWhole, toMessage, type MessageKey, type MessageParameters } from '../../messages';
import { listDoubts, noteOf, type Compared } from './doubts';

beforeAll(() => speakWhole(en));

const say = (key: MessageKey, parameters?: MessageParameters): string => toMessage('en', key, parameters);
const bar = (value: number, unit = 'bar') => ({ value, unit, digits: 0 });
const NOTHING: Compared = { target: null, former: null, rating: null };
const ask = (values: Parameters<typeof listDoubts>[0], compared: Partial<Compared> = {}): string[] =>
  listDoubts(values, { ...NOTHING, ...compared }, 'bar', say);

describe('figures that look wrong', () => {
  it('are asked about when another unit would fit, with the value that would', () => {
    expect(ask({ setting: bar(2030) }, { target: { setting: bar(140) } })).toEqual([
      'Setting 2030 bar is far from the target: 140 bar. 2030 psi would be near it: is the unit right?',
    ]);
    expect(ask({ setting: bar(14) }, { target: { setting: bar(140) } })).toEqual([
      'Setting 14 bar is far from the target: 140 bar. 14 MPa would be near it: is the unit right?',
    ]);
  });

  it('are asked about when ten times off the reading before, or a neighbour', () => {
    expect(ask({ clampTime: { value: 25, unit: 's' } }, { former: { clampTime: { value: 2.5, unit: 's' } } })).toEqual([
      'Clamp time, until the switch makes 25 s is ten times off or more, compared with the reading before it: 2.5 s.',
    ]);
    expect(ask({ setting: bar(150), setPoint: bar(12) })).toHaveLength(1);
    expect(ask({ setting: bar(150), setPoint: bar(130), resetPoint: bar(110) })).toEqual([]);
  });

  it('are asked about above a rating, far from the target, and outside what is usual', () => {
    expect(ask({ setting: bar(260) }, { rating: { name: 'Swing clamp', pressurePa: 250e5 } })).toEqual([
      'Setting 260 bar is above the rating of Swing clamp: 250 bar.',
    ]);
    expect(ask({ setting: bar(100) }, { target: { setting: bar(140) } })).toEqual([
      'Setting 100 bar is far from the target: 140 bar.',
    ]);
    expect(ask({ setting: bar(2030) })).toEqual([
      'Setting 2030 bar is outside what is usual, 5 bar to 1000 bar: is the unit right?',
    ]);
  });

  it('stay unasked when they are near, in whatever unit', () => {
    expect(ask({ setting: bar(2030, '[psi]') }, { target: { setting: bar(140) } })).toEqual([]);
    expect(ask({ settingTolerance: bar(2), setting: bar(141) }, { target: { setting: bar(140) } })).toEqual([]);
  });
});

describe('what stands beside a field', () => {
  it('is the target, the reading before, and how far the typed one is off', () => {
    const compared = { ...NOTHING, target: { setting: bar(140) }, former: { setting: bar(138) } };
    expect(noteOf('setting', null, compared, 'bar', say)).toBe('Target 140 bar · Last reading 138 bar');
    expect(noteOf('setting', bar(145), compared, 'bar', say)).toBe(
      'Target 140 bar · Last reading 138 bar · 5 bar above the target',
    );
    expect(noteOf('setPoint', bar(120), compared, 'bar', say)).toBeUndefined();
  });

  it('name the air at the pump that the last reading was taken with, where the reading depends on it', () => {
    const former = {
      setting: bar(138),
      airPressure: { ...bar(4.5), digits: 1 },
      clampTime: { value: 1.18, unit: 's' },
      setPoint: bar(120),
    };
    const compared = { ...NOTHING, former };
    expect(noteOf('setting', null, compared, 'bar', say)).toBe('Last reading 138 bar, with 4.5 bar of air at the pump');
    expect(noteOf('setting', null, compared, '[psi]', say)).toBe(
      'Last reading 2000 psi, with 65.3 psi of air at the pump',
    );
    expect(noteOf('clampTime', null, compared, 'bar', say)).toBe(
      'Last reading 1.18 s, with 4.5 bar of air at the pump',
    );
    expect(noteOf('setPoint', null, compared, 'bar', say)).toBe('Last reading 120 bar');
    expect(noteOf('airPressure', null, compared, 'bar', say)).toBe('Last reading 4.5 bar');
  });
});
