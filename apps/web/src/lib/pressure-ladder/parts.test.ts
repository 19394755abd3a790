import type { Check } from './rungs';
import { toParts } from './parts';

const withStatus = (status: Check['status']) => ({ reason: 'within' as const, subject: null, status });
const checkOf = (...statuses: Check['status'][]) => ({ pairs: statuses.map(withStatus) });

describe('the parts of a check', () => {
  it('that do not hold stand under that', () => {
    expect(toParts(checkOf('fails', 'marginal', 'holds'))).toMatchObject({
      caption: 'check.pairs',
      parts: [{ status: 'fails' }, { status: 'marginal' }],
    });
    expect(toParts(checkOf('unproven', 'holds')).caption).toBe('check.pairs');
  });

  it('that are only warned of, such as a hose that may burst, are not said not to hold', () => {
    expect(toParts(checkOf('marginal', 'holds'))).toMatchObject({
      caption: 'check.pairsToMind',
      parts: [{ status: 'marginal' }],
    });
  });

  it('that hold are not listed', () => {
    expect(toParts(checkOf('holds', 'holds')).parts).toEqual([]);
    expect(toParts({}).parts).toEqual([]);
  });
});
