import type { ProvedCheck, CheckStatus } from '@repo/calc';
import { toRanks } from './standing-summary.js';

const check = (status: CheckStatus, ratio: number | null, probability: number | null = null) =>
  ({ status, ratio, probability }) as ProvedCheck;

describe('How far from safe a circuit is', () => {
  it('goes by the checks that decide, the worst of them, and not by those that do better', () => {
    const checks = [check('holds', 0.99), check('fails', 1.2, 0.4), check('fails', 1.5, 0.7)];
    expect(toRanks({ status: 'fails', checks })).toEqual({ ratioRank: -1.5, probabilityRank: 0.4 });
    const almost = toRanks({ status: 'holds', checks: [check('holds', 0.98)] });
    const plain = toRanks({ status: 'holds', checks: [check('holds', 0.4)] });
    expect(almost.ratioRank).toBeLessThan(plain.ratioRank);
  });

  it('a broken rule has no degree, and comes before all that have one', () => {
    const broken = toRanks({ status: 'fails', checks: [check('fails', null), check('fails', 9)] });
    expect(broken.ratioRank).toBeLessThan(toRanks({ status: 'fails', checks: [check('fails', 1000)] }).ratioRank);
    expect(toRanks({ status: 'unproven', checks: [check('unproven', null)] })).toEqual({
      ratioRank: 0,
      probabilityRank: 1,
    });
  });
});
