export {
  area,
  check,
  checks,
  choice,
  choiceOrNone,
  day,
  moment,
  oneTimeCode,
  quantity,
  text,
  tristate,
} from './fields';
export { listFieldDoubts } from './field-doubts';
export { figureFields } from './figure-fields';
export { blankFigures, groupFigures, listGroup, pickFigures } from './figure-groups';
export { combo } from './combo';
export { list } from './list-field';
export { number } from './number';
export { EntryForm } from './entry-form';
export { FormDialog } from './form-dialog';
export { RecordForm } from './record-form';
export { newPassword, secret } from './secret-field';
export { useEntryForm } from './use-entry-form';
export { useRecordForm } from './use-record-form';
export type { ValuesOf } from './field-def';
