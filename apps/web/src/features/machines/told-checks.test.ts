import { toldChecks } from './told-checks';

describe('toldChecks', () => {
  const ladder = (status: string) => ({
    status,
    checks: ['holds', status, 'marginal', status, status].map((one, index) => ({ status: one, code: String(index) })),
  });

  it('tells the two worst checks', () => {
    expect(toldChecks(ladder('fails')).map(({ code }) => code)).toEqual(['1', '3']);
  });

  it('tells once what is not known: the next check mostly waits for the same figures', () => {
    expect(toldChecks(ladder('unproven')).map(({ code }) => code)).toEqual(['1']);
  });
});
