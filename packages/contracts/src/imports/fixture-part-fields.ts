import { ELEMENT_FIGURES, type Figure } from '@repo/calc/figures';
import { CUT_FIGURES, type CutEntry } from '../operations/cut-figures.js';
import { fieldsOf, type ImportField } from './import-field-model.js';
import { toColumn } from './figure-columns.js';

const element = fieldsOf('fixture-element');
const operation = fieldsOf('operation');
const NAME = { max: 120 } as const;
const SHORT = { max: 400 } as const;
/** Of as many places as an element may have. */
const PLACES = { max: 20_000 } as const;
const MOST_PIECES = 200;
const MOST_NUMBER = 9_999;

/** What an element is, then how large it is, then the rest. */
const rankOf = ({ type, column }: Figure): number => (type === 'choice' ? 0 : column?.place === 'first' ? 1 : 2);

const elementFigures = Object.entries<Figure>(ELEMENT_FIGURES)
  .sort(([, one], [, other]) => rankOf(one) - rankOf(other))
  .flatMap(([name, figure]) => {
    const column = toColumn(figure);
    if (column === null) return [];
    const [header, type, rest] = column;
    return [element(name, `Element: ${header.toLowerCase()}`, type, rest)];
  });

/** Clamps, supports and locators of a fixture, each under a name of its own. */
export const FIXTURE_ELEMENT_FIELDS: readonly ImportField[] = [
  element('name', 'Element', 'text', { required: true, ...NAME }),
  element('kind', 'Element: kind', 'choice', { required: true, choices: ['clamp', 'support', 'locator'] }),
  element('quantity', 'Element: quantity', 'integer', { min: 1, max: MOST_PIECES }),
  ...elementFigures,
  element('places', 'Element: places', 'text', PLACES),
];

/** The longest cell of each place: a point is three numbers of seventeen digits with their units. */
const LONGEST_PLACE = 200;

function toCutColumn(name: string, entry: CutEntry): ImportField {
  const header = `Operation: ${entry.label.charAt(0).toLowerCase()}${entry.label.slice(1)}`;
  switch (entry.type) {
    case 'quantity': {
      const { kind, zero, negative } = entry;
      const rest = { kind, ...(zero === true ? { zero } : {}), ...(negative === true ? { negative } : {}) };
      return operation(name, header, 'quantity', rest);
    }
    case 'number':
      return operation(name, header, entry.isWhole === true ? 'integer' : 'number', {
        min: entry.least,
        max: entry.most,
      });
    case 'choice':
      return operation(name, header, 'choice', { choices: entry.choices });
    case 'group':
      return operation(name, header, 'text', { max: entry.most });
    default:
      return operation(name, header, 'text', { max: entry.most * LONGEST_PLACE });
  }
}

/** The figures of a cut. */
const CUT_FIELDS = Object.entries<CutEntry>(CUT_FIGURES).map(([name, entry]) => toCutColumn(name, entry));

/** Cuts that a fixture must hold, as they are now. */
export const OPERATION_FIELDS: readonly ImportField[] = [
  operation('number', 'Operation', 'integer', { required: true, min: 1, max: MOST_NUMBER }),
  operation('name', 'Operation: name', 'text', { required: true, ...NAME }),
  operation('tool', 'Operation: tool', 'text', SHORT),
  operation('material', 'Operation: material', 'text', SHORT),
  operation('requiredBasis', 'Operation: basis of the required pressure', 'choice', {
    choices: ['typed', 'computed'],
  }),
  operation('requiredPressure', 'Operation: required pressure', 'quantity', { kind: 'pressure' }),
  operation('requiredSource', 'Operation: source of the required pressure', 'text', SHORT),
  ...CUT_FIELDS,
  operation('workpieceLimit', 'Operation: most that the workpiece allows', 'quantity', { kind: 'pressure' }),
  operation('workpieceNotLimiting', 'Operation: workpiece does not limit', 'boolean'),
  operation('notLimitingReason', 'Operation: does not limit because', 'text', SHORT),
  operation('notLimitingBy', 'Operation: said by', 'text', SHORT),
  operation('validFrom', 'Operation: valid from', 'instant', { required: true }),
];
