import type { ImportEntity } from '@repo/contracts';

/** How a record of each kind is told from its like: what it hangs on, and the field that names it there. */
export const IDENTITY: Record<ImportEntity, { within: ImportEntity | null; by: string | null }> = {
  'component-type': { within: null, by: 'name' },
  customer: { within: null, by: 'name' },
  site: { within: 'customer', by: 'name' },
  machine: { within: 'site', by: 'name' },
  station: { within: 'machine', by: 'name' },
  'power-unit': { within: 'machine', by: 'name' },
  circuit: { within: 'machine', by: 'name' },
  'installed-component': { within: 'machine', by: 'designation' },
  'm-code': { within: 'machine', by: 'code' },
  signal: { within: 'machine', by: 'name' },
  wire: { within: 'signal', by: 'number' },
  fixture: { within: 'customer', by: 'name' },
  'fixture-element': { within: 'fixture', by: 'name' },
  operation: { within: 'fixture', by: 'number' },
  'fixture-fitting': { within: 'station', by: null },
  'target-setting': { within: 'circuit', by: null },
  'setup-record': { within: 'circuit', by: 'measuredAt' },
};

/** Whether records of one kind belong to one of another, through whatever lies between. */
export function isWithin(entity: ImportEntity, other: ImportEntity): boolean {
  const { within } = IDENTITY[entity];
  return within !== null && (within === other || isWithin(within, other));
}

/** What a record refers to beside what it is within. */
const REFERS: Readonly<Partial<Record<ImportEntity, readonly ImportEntity[]>>> = {
  circuit: ['station', 'power-unit'],
  'installed-component': ['circuit', 'power-unit'],
  'm-code': ['station'],
  signal: ['circuit', 'm-code'],
  'fixture-fitting': ['fixture'],
};

/** Whether a record hangs on one of another kind that is named in the same row: what merely stands beside it is nothing to it. */
export const hangsOn = (entity: ImportEntity, other: ImportEntity): boolean =>
  isWithin(entity, other) || REFERS[entity]?.includes(other) === true;
