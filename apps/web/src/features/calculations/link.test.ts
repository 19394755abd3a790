import { parseInputs, toLink } from './link';

const inputsOf = (link: string): Record<string, unknown> | null => {
  const { searchParams, hash } = new URL(link);
  return parseInputs(new URLSearchParams(hash.slice(1)).get('inputs') ?? searchParams.get('inputs'));
};

describe('the link to a calculation', () => {
  const few = { bore: { value: 40, unit: 'mm' }, name: 'a & b = 100 % #1' };
  const many = { loads: Array.from({ length: 400 }, (_, index) => ({ force: { value: [index, 0, 0], unit: 'N' } })) };

  it.each([few, many])('holds the inputs', (inputs) => {
    const link = toLink('https://kedge.example/calculations/holding-force?locale=en', JSON.stringify(inputs));
    expect(inputsOf(link)).toEqual(inputs);
    expect(new URL(link).searchParams.get('locale')).toBe('en');
  });

  it('keeps what is long away from the server, and leaves nothing behind', () => {
    const long = toLink('https://kedge.example/calculations/holding-force', JSON.stringify(many));
    expect(new URL(long).search).toBe('');
    expect(toLink(long, null)).toBe('https://kedge.example/calculations/holding-force');
  });

  it('takes what is no inputs for none', () => {
    expect([parseInputs(null), parseInputs('{'), parseInputs('[1]'), parseInputs('7')]).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });
});
