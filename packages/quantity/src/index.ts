export { formatQuantity, type FormatQuantityOptions, type FormattedQuantity } from './format-quantity.js';
export {
  getKindInfo,
  isQuantityKind,
  QUANTITY_KINDS,
  toUnitSymbol,
  type DisplayUnit,
  type QuantityKind,
  type QuantityKindInfo,
} from './kinds.js';
export {
  parseQuantity,
  type ParseQuantityCode,
  type ParseQuantityOptions,
  type ParseQuantityResult,
} from './parse-quantity.js';
export { findUnit, type ParsedUnit } from './ucum-parser.js';
export { ATOMS as UNIT_ATOMS, PREFIXES as UNIT_PREFIXES, type Dimension } from './ucum-table.js';
export {
  checkUnit,
  convert,
  fromSi,
  isCommensurable,
  toSi,
  UnitError,
  type Quantity,
  type QuantityArray,
  type UnitErrorCode,
} from './units.js';
