export {
  area,
  check,
  checks,
  choice,
  choiceOrNone,
  combo,
  day,
  moment,
  number,
  quantity,
  text,
  tristate,
} from './fields';
export { list } from './list-field';
export { FormDialog } from './form-dialog';
export { RecordForm } from './record-form';
export { useRecordForm } from './use-record-form';
export type { ValuesOf } from './field-def';
