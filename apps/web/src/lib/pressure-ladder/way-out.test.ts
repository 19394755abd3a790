import { CHANGE_CODES } from '@repo/calc/changes';
import { checkMessages } from '../../messages/en/checks';

describe('the way out in words', () => {
  it('has a sentence for every change, and none for what is no change', () => {
    const toldCodes = Object.keys(checkMessages).flatMap((key) => /^wayOut\.change\.(.+)$/.exec(key)?.[1] ?? []);
    expect(new Set(toldCodes)).toEqual(new Set(CHANGE_CODES));
  });
});
