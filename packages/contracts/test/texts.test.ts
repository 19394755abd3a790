import { nameSchema, noteSchema, shortTextSchema } from '../src/common/ids.js';

const isName = (text: string): boolean => nameSchema.safeParse(text).success;

describe('a name', () => {
  it.each([
    ['nothing that can be seen', '\u200b\u200b'],
    ['a combining mark alone', '\u0301'],
    ['what turns the rest of the line round', 'Pump \u202Exslx.1'],
    ['what is kept apart from the line', 'Pump \u2066abc\u2069'],
    ['a zero-width space, which makes a twin of another name', 'Station\u200b 1'],
    ['a joiner between letters that have no joined form', 'Sta\u200dtion 1'],
    ['a byte order mark', 'Station \ufeff1'],
    ['a soft hyphen', 'Sta\u00adtion'],
    ['a line break', 'Station\n1'],
    ['a line separator', 'Station\u20281'],
    ['a control character', 'Station\u0007'],
    ['one of the second row', 'Station\u00851'],
    ['what no character is, and no workbook holds', 'Station\uffff'],
    ['one of another plane', 'Station\u{1fffe}'],
  ])('with %s is refused', (_name, text) => {
    expect(isName(text)).toBe(false);
  });

  it.each([
    'Station 1',
    'Prensa nº 4 – M12×1,5',
    'Ölpumpe (groß)',
    '夹具 7',
    'می‌خواهم',
    'क्‍ष',
    '工件 🔧',
    'HPU_2/α',
    '100 %',
    '-',
  ])('%s is taken', (text) => {
    expect(nameSchema.parse(text)).toBe(text);
  });

  it('is kept in one form, however its accents were typed', () => {
    expect(nameSchema.parse('  Cafe\u0301  ')).toBe('Caf\u00e9');
  });

  it('says what is wrong in a word that forms have a sentence for', () => {
    expect(nameSchema.safeParse('\u200b').error?.issues).toMatchObject([{ params: { code: 'unseen' } }]);
  });
});

describe.each([
  ['a note', noteSchema],
  ['a short text', shortTextSchema],
])('%s', (_name, schema) => {
  it('may have lines, and marks that its writing needs', () => {
    const text = 'first\r\nsecond\tthird\nרגיל \u200fABC';
    expect(schema.parse(text)).toBe(text);
    expect(schema.parse('')).toBe('');
  });

  it.each([
    ['turns the rest round', 'see \u202Etxet'],
    ['no workbook holds', 'see \ufffe'],
    ['rings the bell of a terminal', 'see \u001b[2J'],
  ])('with what %s is refused', (_what, text) => {
    expect(schema.safeParse(text).success).toBe(false);
  });
});
