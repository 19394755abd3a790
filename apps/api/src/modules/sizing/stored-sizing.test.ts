import { readFileSync } from 'node:fs';
import { toPressureLadder } from '@repo/contracts';
import proveInThread from './proofs.thread.js';
import { toCanonicalText, toProofs } from './sizing-document.js';
import { sizingDocument } from './stored-sizing.js';

const textOf = (format: number): string =>
  readFileSync(new URL(`kept-records/format-${format}.jcs`, import.meta.url), 'utf8');
/** Every list, object and value of a text but this one. */
const without = (text: string, ...path: string[]): unknown => {
  const whole: unknown = JSON.parse(text);
  const last = path.pop() ?? '';
  let inner = whole as Record<string, unknown>;
  for (const key of path) inner = inner[key] as Record<string, unknown>;
  delete inner[last];
  return whole;
};

describe('the document of a sizing record', () => {
  it.each([1, 2, 3, 4])('of format %i is read without a change, and proves what it proved', (format) => {
    const text = textOf(format);
    const document = sizingDocument.readText(text);
    expect(document).toMatchObject({ format: `kedge-sizing/${format}` });
    expect(toCanonicalText(document)).toBe(text);
    const [result] = proveInThread(toProofs(document));
    if (result === undefined) throw new Error('there is no proof');
    // To the last digit what the bare text proves: nothing was added to the input, and nothing left out.
    expect([result]).toEqual(proveInThread(toProofs(JSON.parse(text))));
    const codes = (one: { checks: readonly { code: string; status: string }[] }) =>
      one.checks.map(({ code, status }) => [code, status]);
    expect(codes(toPressureLadder(result))).toEqual(codes(document.result));
  });

  it.each([
    [1, ['input', 'operations'], '/input/operations needs a list'],
    [1, ['input', 'pump'], '/input/pump needs an object'],
    [2, ['input', 'sharedSupply', 'others'], '/input/sharedSupply/others needs a list'],
    [3, ['input', 'further', 'order', 'supports'], '/input/further/order/supports needs a list'],
    [4, ['input', 'control', 'signals'], '/input/control/signals needs a list'],
    [4, ['input', 'components', '0', 'figures'], '/input/components/0/figures needs an object'],
    [4, ['result', 'checks'], '/result/checks needs a list'],
  ] as const)('of format %i needs %j, which computing it again looks into', (format, path, expected) => {
    expect(() => sizingDocument.read(without(textOf(format), ...path))).toThrow(expected);
  });

  it('of format 4 may lack a figure that was asked for later', () => {
    const stored = without(textOf(4), 'input', 'circuit', 'isProvedAgain');
    expect(sizingDocument.read(stored)).toBe(stored);
  });

  it('of no known format is not read as another', () => {
    expect(() => sizingDocument.readText(textOf(1).replace('kedge-sizing/1', 'kedge-sizing/0'))).toThrow('/format');
  });
});
