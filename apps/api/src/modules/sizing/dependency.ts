import type { FactTables } from './fact-tables.js';

/**
 * What a proof stands on: a kind of facts and the id by which they are looked up. A proof's dependencies are what was looked up for it;
 * a change names the same pairs for what it wrote, and nothing else joins the two.
 */
export interface Dependency {
  entity: FactKind;
  id: string;
}
export type FactKind = keyof FactTables;

/** Kinds of facts that belong to one machine: a change of them concerns no circuit of another one. */
export const OF_MACHINE = {
  machine: 'machines',
  'circuits-of-machine': 'machines',
  'control-of-machine': 'machines',
  'power-unit': 'power_units',
  'circuits-of-power-unit': 'power_units',
  'components-of-power-unit': 'power_units',
  circuit: 'circuits',
  'components-of-circuit': 'circuits',
  'target-settings-of-circuit': 'circuits',
  'setup-records-of-circuit': 'circuits',
  'fitting-of-station': 'stations',
} as const satisfies Partial<Record<FactKind, string>>;

export const dependOn = (entity: FactKind, ...ids: readonly (string | null)[]): Dependency[] =>
  ids.flatMap((id) => (id === null ? [] : [{ entity, id }]));
