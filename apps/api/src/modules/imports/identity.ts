import type { ImportEntity } from '@repo/contracts';

/** How a record of each kind is told from its like: what it hangs on, and the field that names it there. */
export const IDENTITY: Record<ImportEntity, { within: ImportEntity | null; by: string | null }> = {
  customer: { within: null, by: 'name' },
  site: { within: 'customer', by: 'name' },
  machine: { within: 'site', by: 'name' },
  station: { within: 'machine', by: 'name' },
  'power-unit': { within: 'machine', by: 'name' },
  circuit: { within: 'machine', by: 'name' },
  'installed-component': { within: 'machine', by: 'designation' },
  fixture: { within: 'customer', by: 'name' },
  'fixture-fitting': { within: 'station', by: null },
  'target-setting': { within: 'circuit', by: null },
  'setup-record': { within: 'circuit', by: 'measuredAt' },
};

/** Whether records of one kind belong to one of another, through whatever lies between. */
export function isWithin(entity: ImportEntity, other: ImportEntity): boolean {
  const { within } = IDENTITY[entity];
  return within !== null && (within === other || isWithin(within, other));
}
