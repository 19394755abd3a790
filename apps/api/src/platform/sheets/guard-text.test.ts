import { guardText, unguardText } from './sheet-model.js';

describe('a text that a spreadsheet would take for a formula', () => {
  // The wide signs are those of East Asian keyboards; a spreadsheet set to such a language computes with them.
  it.each(['=1', '+1', '-1', '@A1', '\t=1', '\r=1', '\n=1', '＝1', '＋1', '－1', '＠A1', "'=1", "'＝1"])(
    '%j is guarded, and comes back as it was',
    (text) => {
      expect(guardText(text)).toBe(`'${text}`);
      expect(unguardText(guardText(text))).toBe(text);
    },
  );

  it.each(['1=1', 'a+b', "it's", "'quoted'", '', '≠', '−1'])('%j is left as it is', (text) => {
    expect([guardText(text), unguardText(text)]).toEqual([text, text]);
  });
});
