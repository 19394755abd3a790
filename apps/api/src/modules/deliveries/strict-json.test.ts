import fc from 'fast-check';
import { JsonFaultError, parseStrictJson } from './strict-json.js';

const parse = (text: string) => parseStrictJson(Buffer.from(text));
function faultOf(bytes: string | Uint8Array): string {
  try {
    parseStrictJson(Buffer.from(bytes));
    return 'none';
  } catch (error) {
    if (error instanceof JsonFaultError) return error.fault;
    throw error;
  }
}

describe('A strict reader of JSON', () => {
  it('reads whatever JSON writes', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 5 }), (value) => {
        const text = JSON.stringify(value);
        fc.pre(faultOf(text) !== 'character');
        expect(parse(text)).toEqual(JSON.parse(text));
      }),
    );
  });

  it.each([
    ['{"a":1,"a":2}', 'duplicate-key'],
    ['{"a":1,"\\u0061":2}', 'duplicate-key'],
    ['[{"x":{"k":[1,{"k":2}],"k":3}}]', 'duplicate-key'],
    ['{"a":{"x":1},"a":2}', 'duplicate-key'],
    ['{"__proto__":1}', 'none'],
    ['{"__proto__":1,"__proto__":2}', 'duplicate-key'],
    ['{"a:b":"c:d","e":"{:["}', 'none'],
    ['[{"a":1},{"a":2}]', 'none'],
    ['{"a":"a","b":"a\\"a"}', 'none'],
    ['{"a\\\\":1,"a":2}', 'none'],
    ['"\\ud800"', 'character'],
    ['"\\ud83d\\ude00"', 'none'],
    ['["a\\u0000b"]', 'character'],
    ['{"a', 'syntax'],
    ['{"a":NaN}', 'syntax'],
    ['{"a":1}x', 'syntax'],
    ['', 'syntax'],
    ['"\\x"', 'syntax'],
    [`${'['.repeat(16)}${']'.repeat(16)}`, 'none'],
    [`${'['.repeat(17)}${']'.repeat(17)}`, 'depth'],
    ['['.repeat(3_000_000), 'depth'],
    ['"'.repeat(100_001), 'syntax'],
  ])('%.60s: %s', (text, fault) => {
    expect(faultOf(text)).toBe(fault);
  });

  it('refuses bytes that are not UTF-8', () => {
    expect(faultOf(Uint8Array.of(0x22, 0xff, 0x22))).toBe('encoding');
    expect(faultOf(Uint8Array.of(0x22, 0xed, 0xa0, 0x80, 0x22))).toBe('encoding');
  });

  it('needs time in proportion to the length, whatever is in it', () => {
    const ugly = ['"\\', '"a":"\\\\', '{"a":{', '\\'.repeat(9), '"\\\\\\"'];
    for (const part of ugly) {
      const began = performance.now();
      faultOf(part.repeat(Math.floor(1_000_000 / part.length)));
      expect(performance.now() - began).toBeLessThan(1500);
    }
  });
});
