import { inUnitOfPage, readQuantity, toQuantityDraft } from './quantity-draft';

describe('a figure in a form whose page is in another unit', () => {
  const saved = { value: 160, unit: 'bar', digits: 0 };

  it('is shown in the unit of the page, and saved as it was typed as long as nobody changes it', () => {
    const draft = toQuantityDraft(saved, 'pressure', '[psi]');
    expect([draft.text, draft.unit]).toEqual(['2321', '[psi]']);
    expect(readQuantity(draft, 'pressure')).toEqual({ ok: true, quantity: saved });
    expect(readQuantity({ ...draft, text: '2320' }, 'pressure')).toEqual({
      ok: true,
      quantity: { value: 2320, unit: '[psi]', digits: 0 },
    });
  });

  it.each([
    [{ value: 4.6, unit: 'bar' }, '[psi]', '66.72'],
    [{ value: 2321, unit: '[psi]', digits: 0 }, 'MPa', '16'],
    [{ value: 0.05, unit: 'bar', digits: 2 }, 'MPa', '0.005'],
    [{ value: 350.25, unit: 'bar', digits: 2 }, 'MPa', '35.025'],
    [{ value: 178, unit: 'bar', digits: 1 }, 'bar', '178.0'],
  ])('%j is shown in %s as %s', (quantity, unit, text) => {
    expect(toQuantityDraft(quantity, 'pressure', unit).text).toBe(text);
  });

  it('goes over to another unit with the page, unless somebody has typed in it or has chosen another unit', () => {
    const draft = toQuantityDraft(saved, 'pressure', 'bar');
    expect(inUnitOfPage(draft, 'pressure', '[psi]')).toEqual(toQuantityDraft(saved, 'pressure', '[psi]'));
    const blank = toQuantityDraft(null, 'pressure', 'bar');
    expect(inUnitOfPage(blank, 'pressure', 'MPa')).toEqual(toQuantityDraft(null, 'pressure', 'MPa'));
    const typed = { ...draft, text: '150' };
    expect(inUnitOfPage(typed, 'pressure', '[psi]')).toBe(typed);
    const chosen = { ...blank, unit: '[psi]' };
    expect(inUnitOfPage(chosen, 'pressure', 'MPa')).toBe(chosen);
  });

  it('stays in its own unit where it is no pressure', () => {
    const draft = toQuantityDraft({ value: 1, unit: '[in_i]' }, 'length', 'mm');
    expect([draft.text, draft.unit]).toEqual(['1', '[in_i]']);
    expect(inUnitOfPage(draft, 'length', 'mm')).toBe(draft);
  });
});
