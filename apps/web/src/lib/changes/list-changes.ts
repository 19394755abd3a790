/** One field as the trail tells it: before and now of an edit; what was said of all else. */
export interface FieldChange {
  path: readonly string[];
  /** undefined: it was said, with nothing before it */
  from?: unknown;
  to: unknown;
}

type Fields = Readonly<Record<string, unknown>>;
/** What says nothing to a person: keys of the record itself. */
const UNTOLD = new Set(['id', 'version', 'afterRevision', 'password', 'importId']);

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isQuantity = (value: Fields): boolean => 'value' in value && 'unit' in value;
const isEdit = (value: Fields): value is { from: unknown; to: unknown } =>
  'from' in value && 'to' in value && Object.keys(value).length === 2;
const isGroup = (value: unknown): value is Fields => isFields(value) && !isQuantity(value);

function listOf(path: readonly string[], value: unknown): FieldChange[] {
  if (UNTOLD.has(path.at(-1) ?? '')) return [];
  if (!isGroup(value)) return [{ path, to: value }];
  if (!isEdit(value)) return Object.entries(value).flatMap(([name, inner]) => listOf([...path, name], inner));
  const { from, to } = value;
  // What came or went whole is told by what it holds.
  if (from === null && isGroup(to)) return openGroup(path, to, (inner) => ({ from: null, to: inner }));
  if (to === null && isGroup(from)) return openGroup(path, from, (inner) => ({ from: inner, to: null }));
  return [{ path, from, to }];
}

const openGroup = (path: readonly string[], group: Fields, toEdit: (inner: unknown) => Fields): FieldChange[] =>
  Object.entries(group)
    .filter(([, inner]) => inner !== null && inner !== '')
    .flatMap(([name, inner]) => listOf([...path, name], toEdit(inner)));

/** All that an entry of the trail tells, field by field; what was said to be nothing, where nothing was before, is left out. */
export const listChanges = (changes: Fields): FieldChange[] =>
  Object.entries(changes)
    .flatMap(([name, value]) => listOf([name], value))
    .filter((change) => 'from' in change || (change.to !== null && change.to !== ''));
