import { readFileSync } from 'node:fs';
import { describeRegistry } from '@repo/calc';
import { findExample } from './find-example';
import { fromInputs, readInputs } from './forms';

const file = new URL('../../../../../packages/calc/test/data/checks.json', import.meta.url);
const { rows } = JSON.parse(readFileSync(file, 'utf8')) as {
  rows: { id: string; calculation: string; source: string; inputs: unknown; expected?: unknown }[];
};

describe('the worked example of', () => {
  it.each(describeRegistry().map((one) => [one.id, one.inputs] as const))(
    '%s is one of its checks, and fills its form without loss',
    async (id, fields) => {
      const example = await findExample(id);
      if (example === null) throw new Error('there is none');
      const row = rows.find((candidate) => candidate.id === example.check);
      expect(row).toMatchObject({ calculation: id, source: example.source, inputs: example.inputs });
      expect(row?.expected).toBeDefined();
      const { inputs, unread } = readInputs(fields, fromInputs(fields, example.inputs));
      expect(unread).toEqual({});
      expect(inputs).toEqual(example.inputs);
    },
  );

  it('what is no calculation is none', async () => {
    expect(await findExample('no-such-thing')).toBeNull();
  });
});
