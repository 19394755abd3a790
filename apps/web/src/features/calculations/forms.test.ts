import type { FieldDescription } from '@repo/calc';
import { fromInputs, readInputs, toBlankDrafts } from './forms';

const fields: Record<string, FieldDescription> = {
  bore: { type: 'quantity', kind: 'length', units: ['mm', 'm'], required: true },
  efficiency: { type: 'fraction', required: false, default: 1 },
  pivot: { type: 'word', words: ['between', 'end'], required: false },
  spans: { type: 'quantity-list', kind: 'pressure', units: ['bar'], required: true },
  parts: {
    type: 'list',
    fields: { name: { type: 'text' }, rating: { type: 'quantity', kind: 'pressure', units: ['bar'] } },
  },
};
const inputs = {
  bore: { value: 40, unit: 'mm' },
  efficiency: 0.9,
  pivot: 'end',
  spans: { value: [100, 160, 250], unit: 'bar' },
  parts: [{ name: 'hose', rating: { value: 225, unit: 'bar' } }],
};

describe('the form of a calculation', () => {
  it('gives back the inputs that a link held', () => {
    expect(readInputs(fields, fromInputs(fields, inputs))).toEqual({ inputs, unread: {} });
  });

  it('leaves out what is empty: nothing becomes zero', () => {
    expect(readInputs(fields, toBlankDrafts(fields))).toEqual({ inputs: {}, unread: {} });
  });

  it('takes a unit typed behind the number before the one beside the field', () => {
    const drafts = toBlankDrafts(fields);
    const bore = drafts['bore'];
    expect(bore).toBeDefined();
    if (bore === undefined) return;
    drafts['bore'] = { ...bore, text: '1.5 in' };
    expect(readInputs(fields, drafts).inputs).toEqual({ bore: { value: 1.5, unit: '[in_i]' } });
  });

  it('names what it cannot read by its path', () => {
    const drafts = fromInputs(fields, inputs);
    const rating = drafts['parts']?.items[0]?.['rating'];
    expect(rating).toBeDefined();
    if (rating !== undefined) rating.text = 'much';
    expect(readInputs(fields, drafts).unread).toEqual({ 'parts[0].rating': 'not-a-number' });
  });
});
