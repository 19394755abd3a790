import { en } from '../../messages/en';
import { speakWhole, toMessage, type MessageKey, type MessageParameters } from '../../messages';
import { sayWhatTimeProves } from './time-proofs';

beforeAll(() => speakWhole(en));

const say = (key: MessageKey, parameters?: MessageParameters): string => toMessage('en', key, parameters);
const allowed = { clampTimeAllowed: { value: 2.5, unit: 's', digits: 1 }, unclampTimeAllowed: null };

describe('each time that is taken at the machine', () => {
  it('says which check it proves, on which side, and against what', () => {
    expect(sayWhatTimeProves('clampTime', allowed, say)).toBe(
      'Check 5, Clamps in time, from above: the switch makes no later than 2.5 s.',
    );
    expect(sayWhatTimeProves('contactTime', allowed, say)).toBe(
      'Check 5, Clamps in time, from below: the switch makes no earlier than this. Counts together with the clamp time.',
    );
    expect(sayWhatTimeProves('unclampTime', allowed, say)).toBe(
      'Check 6, Unclamps reliably and in time, from above: the time allowed is not recorded.',
    );
  });

  it('and says nothing of a reading that is no time of a movement', () => {
    expect(sayWhatTimeProves('oilTemperature', allowed, say)).toBeUndefined();
  });
});
