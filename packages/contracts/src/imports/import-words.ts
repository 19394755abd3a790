/**
 * English words for what is found in a file. A downloaded list of refused rows needs them on the server, a page in the browser:
 * the page's catalogue takes them over from here, so that they are said in one place.
 */
export const IMPORT_WORDS = {
  'imports.remark.error-cell': 'the cell holds the error {got}',
  'imports.remark.formula-without-value': 'the file keeps no value for this formula: open it, save it, try again',
  'imports.remark.date-needed': '“{got}” is no date: write it as 2026-11-25',
  'imports.remark.ambiguous-date': '“{got}” could be two dates: say which comes first, day or month',
  'imports.remark.other-date-order': '“{got}” has day and month the other way round than its column',
  'imports.remark.no-such-date': 'there is no such day: {got}',
  'imports.remark.became-a-date':
    'the spreadsheet program made a date of it ({got}): format the cell as text, type it again',
  'imports.remark.too-long': 'too long: {length} characters, {max} at most',
  'imports.remark.characters': 'it holds characters that cannot be seen, or that turn the text round: type it anew',
  'imports.remark.email': '“{got}” is no e-mail address',
  'imports.remark.time-zone': '“{got}” is no time zone: write it as Europe/Lisbon',
  'imports.remark.choice': '“{got}” is none of: {needs}',
  'imports.remark.yes-or-no': '“{got}” is neither yes nor no',
  'imports.remark.ambiguous-number': '“{got}” could be two numbers: say what its separator is',
  'imports.remark.number-needed': '“{got}” is no number',
  'imports.remark.not-a-number': '“{got}” is no number',
  'imports.remark.whole-number': '“{got}” is no whole number',
  'imports.remark.range': '{got} is out of range: {min} to {max}',
  'imports.remark.quantity-needed': '“{got}” is no quantity',
  'imports.remark.unit-missing': '{got} has no unit, and neither has its column',
  'imports.remark.unit-not-understood': 'the unit of “{got}” does not fit here',
  'imports.remark.too-large': '“{got}” is larger than it can be',
  'imports.remark.too-small': '“{got}” is smaller than it can be',
  'imports.remark.negative': '“{got}” is below zero',
  'imports.remark.zero': 'zero is not possible here',
  'imports.remark.empty': 'a value is missing',
  'imports.remark.nothing-mapped': 'no column of this row is used',
  'imports.remark.key-missing': 'the name is missing: {field}',
  'imports.remark.parent-missing': 'it does not say to which one it belongs: {entity}',
  'imports.remark.parent-refused': 'what it belongs to is refused: {name}',
  'imports.remark.contradicts': '{name}: another row says something else ({other})',
  'imports.remark.missing': '{name} is not there yet; to make it, these are missing: {fields}',
  'imports.remark.future': '{got} lies in the future',
  'imports.remark.machine-without-station': '{name} has no station: name at least one',
  'imports.remark.single-station': 'a single-station machine has one station, this one would have {stations}',
  'imports.remark.cannot-move': 'it stays where it is: {name} is another one',
  'imports.remark.component-type-unknown': 'no component type is called “{got}”: enter it in the library first',
  'imports.remark.kind-stays': 'it is a {kind}, and a component of another kind is another type',
  'imports.remark.figure': '{figure}: {needs}',
  'imports.remark.figure-not-of-kind': 'a {kind} has no such figure: {figure}',
  'imports.remark.figure-without-source': 'a figure needs its source: {figure}',
  'imports.remark.source-without-figure': 'a source, and no figure that it is the source of: {figure}',
  'imports.remark.element-twice':
    'of {name} the file lists {listed} and its fixture has {there}: list each of them, or give each a name of its own',
  'imports.remark.places':
    '“{got}” names no places: write each as 10 mm, 20 mm, 0 mm toward 0, 0, -1 and a semicolon between two',
  'imports.remark.own-figures':
    '“{got}” is no figure with its source: write them as inner diameter = 6 mm [measured]; length = 2 m [drawing]',
  'imports.remark.operation-computed':
    'the required pressure of {name} is computed from its cut: leave it out, or say that it is typed',
  'imports.remark.operation-without-method': 'to describe the cut of {name}, this is missing: {fields}',
  'imports.remark.cut-computed':
    'The required pressure of {name} is computed from its cut when this is written, and stands with the operation afterwards.',
  'imports.remark.cut-lacks':
    'The required pressure of {name} cannot be computed while these are not known: {missing}. Until then every circuit that this fixture is fitted to stays unproven.',
  'imports.remark.cut-place': '“{got}” is not understood: write it as {needs}',
  'imports.remark.cut-group':
    '“{got}” is none of our material groups: leave the cell empty and give figures of its own ({fields}), or write one of: {names}',
  'imports.remark.operation-differs': '{name} is otherwise since {since}: say from when it is so',
  'imports.remark.valid-otherwise': 'it is recorded as valid from {on}, and history is not rewritten',
  'imports.remark.workpiece-limit': 'what does not limit has a reason and a name, and no limit beside it',
  'imports.remark.component-unknown': 'nothing at {got} is installed on the machine',
  'imports.remark.installed-otherwise': 'it is recorded as installed on {on}, and history is not rewritten',
  'imports.remark.component-differs':
    'another component is at {name} since {since}: say from when this one is installed',
  'imports.remark.station-twice': '{name} has another fixture in this file: {other}',
  'imports.remark.fitted-otherwise': 'it is recorded as fitted on {on}, and history is not rewritten',
  'imports.remark.fitted-later': 'another fixture is on the station since {since}: say from when this one is fitted',
  'imports.remark.gauge-due': 'its calibration would be due before it was made',
  'imports.remark.gauge-span': 'the gauge that it was read on ends below the setting',
  'imports.remark.switch-order':
    'a pressure switch makes above where it drops out: the reset point is not below the set point',
  'imports.remark.air-order': 'the lowest plant air is above the highest',
  'imports.remark.both-or-neither': 'it needs its partner: fall and duration, span and class',
  'imports.note.encoding-marked': 'characters: {encoding}, as the file says',
  'imports.note.encoding-assumed': 'characters: {encoding}, assumed — check names with accents',
  'imports.note.delimiter-found': 'columns are separated by “{delimiter}”',
  'imports.note.delimiter-said': 'columns are separated by “{delimiter}”, as the file says',
  'imports.note.stray-quotes': 'quotes in row {row} belong to no pair: taken as ordinary characters',
  'imports.note.dates-from-1904': 'dates count from 1904, and are read so',
  'imports.note.trailing-spaces': '{count} cells with spaces at an end, taken off ({first} first)',
  'imports.note.leading-zeros': '{count} cells with leading zeros, kept as text ({first} first)',
  'imports.note.formulas': '{count} formulas: the value that they had when the file was saved is taken ({first} first)',
  'imports.note.formulas-without-value': '{count} formulas without a saved value ({first} first)',
  'imports.note.error-cells': '{count} cells with an error ({first} first)',
  'imports.note.merged-cells': '{count} merged ranges: every cell gets the value of the first ({first} first)',
  'imports.note.hidden-rows': '{count} hidden rows',
  'imports.note.hidden-columns': '{count} hidden columns ({first} first)',
  'imports.note.totals-rows': '{count} rows that seem to be sums (row {first} first)',
  'imports.note.number-formats': '{count} cells whose number format names a unit, taken as theirs ({first} first)',
  'imports.note.empty-rows': '{count} empty rows, left out (row {first} first)',
  'imports.note.duplicate-heading': 'the heading “{heading}” is there twice (column {column})',
  'imports.note.columns-without-heading': 'columns without a heading: {columns}',
  'imports.unreadable.old-format':
    'It is a workbook of the old binary kind, or one with a password. Save it as .xlsx or .csv without a password.',
  'imports.unreadable.encrypted': 'It is protected by a password. Save it without.',
  'imports.unreadable.not-text': 'It is neither a workbook nor text.',
  'imports.unreadable.zero-byte':
    'Line {line} holds a zero byte, which no text has: the file is damaged, or is no text. Save it once more as .csv or .xlsx.',
  'imports.unreadable.quote-not-closed': 'A quote that begins a cell is never closed (line {line}).',
  'imports.unreadable.row-too-large': 'One row is far too long (line {line}): a quote may be missing.',
  'imports.unreadable.archive-damaged': 'The workbook is damaged or cut off.',
  'imports.unreadable.archive-lies': 'The workbook unpacks to more than it says it does.',
  'imports.unreadable.archive-entries': 'The workbook has too many parts.',
  'imports.unreadable.archive-method': 'The workbook is packed in a way that is not read.',
  'imports.unreadable.workbook-damaged': 'The workbook cannot be opened.',
  'imports.unreadable.no-sheet': 'The workbook has no sheet.',
  'imports.unreadable.too-large-unpacked': 'The workbook unpacks to more than is taken.',
  'imports.unreadable.too-many-sheets': 'It has more than {limit} sheets.',
  'imports.unreadable.too-many-rows': 'It has more than {limit} rows.',
  'imports.unreadable.too-many-columns': 'It has too many columns: 300 at most.',
  'imports.unreadable.too-many-cells': 'It has more than {limit} cells.',
  'imports.unreadable.too-much-text': 'The texts of its cells are longer than {limit} million characters together.',
  'imports.unreadable.too-much-memory': 'Reading it takes more memory than there is for one file.',
  'imports.unreadable.took-too-long': 'Reading it took too long.',
  'imports.unreadable.nothing': 'There is nothing in it.',
} as const;

/** A code's words with its parameters filled in. */
export function importWords(
  group: 'remark' | 'note' | 'unreadable',
  code: string,
  params: Readonly<Record<string, string | number>>,
): string {
  const words: Readonly<Record<string, string>> = IMPORT_WORDS;
  const template = words[`imports.${group}.${code}`] ?? code;
  return template.replaceAll(/\{(\w+)\}/g, (whole, name: string) => String(params[name] ?? whole));
}
