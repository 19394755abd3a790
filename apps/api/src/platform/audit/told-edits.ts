import canonicalize from 'canonicalize';

type Fields = Readonly<Record<string, unknown>>;

/** What one field held before and holds now. */
interface Edit {
  from: unknown;
  to: unknown;
}

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
/** A number with its unit is one thing, whatever else is said of it. */
const isQuantity = (value: Fields): boolean => 'value' in value && 'unit' in value;
const isSame = (left: unknown, right: unknown): boolean => canonicalize(left ?? null) === canonicalize(right ?? null);

/** Things of a list by their names; null where they have none that tells them apart. */
function byName(list: unknown): Fields | null {
  if (!Array.isArray(list)) return null;
  const named = list.map((thing: unknown): [unknown, unknown] => [isFields(thing) ? thing['name'] : undefined, thing]);
  const names = new Set(named.map(([name]) => name));
  const isTelling = [...names].every((name) => typeof name === 'string' && name !== '') && names.size === list.length;
  return isTelling ? (Object.fromEntries(named) as Fields) : null;
}

function toEdit(from: unknown, to: unknown): Edit | Fields | null {
  if (isSame(from, to)) return null;
  if (isFields(from) && isFields(to) && !isQuantity(from) && !isQuantity(to)) return toEditsOf(from, to);
  const [listBefore, listNow] = [byName(from), byName(to)];
  if (listBefore !== null && listNow !== null) return toEditsOf(listBefore, listNow);
  return { from: from ?? null, to: to ?? null };
}

/** Of things that are said whole: what is not there any more went. */
function toEditsOf(before: Fields, now: Fields): Fields {
  const names = [...new Set([...Object.keys(before), ...Object.keys(now)])];
  const edits = names.map((name) => [name, toEdit(before[name], now[name])] as const);
  return Object.fromEntries(edits.filter(([, edit]) => edit !== null));
}

/**
 * What a person said, told as an edit: of each field that the record had, what it held before and holds now, and nothing where both are
 * one; what the record has no field for, such as the reason, as it was said. A record that was put away says when; the edit says whether.
 */
export function toldEdits(before: Fields, edited: Fields): Fields {
  const record: Fields = 'archivedAt' in before ? { ...before, archived: before['archivedAt'] !== null } : before;
  return Object.fromEntries(
    Object.entries(edited).flatMap(([name, value]): [string, unknown][] => {
      if (value === undefined) return [];
      if (!(name in record)) return [[name, value]];
      const edit = toEdit(record[name], value);
      return edit === null ? [] : [[name, edit]];
    }),
  );
}
