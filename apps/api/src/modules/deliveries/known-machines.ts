import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { listKnownCircuits, type KnownCircuit } from './known-circuits.repository.js';

export interface KnownMachine {
  /** by id and by name */
  readonly circuits: ReadonlyMap<string, KnownCircuit>;
  /** all that is known of it, as one text */
  readonly facts: string;
}

/** By source and external reference. */
export type Machines = ReadonlyMap<string, KnownMachine>;

interface Wanted {
  readonly sourceId: string;
  readonly reported: readonly { readonly machine: string }[];
}

const MOST_REMEMBERED = 20_000;

export const machineKey = (sourceId: string, reference: string): string => `${sourceId} ${reference}`;

function referencesOf(wanted: readonly Wanted[]): Map<string, { sourceId: string; reference: string }> {
  const references = new Map<string, { sourceId: string; reference: string }>();
  for (const { sourceId, reported } of wanted) {
    let last: string | undefined;
    for (const { machine } of reported) {
      // Intervals come machine by machine.
      if (machine === last) continue;
      last = machine;
      references.set(machineKey(sourceId, machine), { sourceId, reference: machine });
    }
  }
  return references;
}

/** The machines that are meant, with their circuits; what nobody has told us of is left out. */
export async function readMachines(
  sql: SqlTransaction,
  organisationId: string,
  wanted: readonly Wanted[],
): Promise<Machines> {
  const references = referencesOf(wanted);
  const machines = new Map<string, { circuits: Map<string, KnownCircuit>; facts: string }>();
  if (references.size === 0) return machines;
  for (const row of await listKnownCircuits(sql, organisationId, [...references.values()])) {
    const key = machineKey(row.sourceId, row.reference);
    const machine = machines.get(key) ?? { circuits: new Map<string, KnownCircuit>(), facts: '' };
    machines.set(key, machine);
    machine.facts += `${row.customerId} ${row.circuitId ?? ''} ${row.circuitName ?? ''}\n`;
    if (row.circuitId !== null) {
      machine.circuits.set(row.circuitId, row);
      machine.circuits.set(row.circuitName ?? '', row);
    }
  }
  return machines;
}

/** What was known of machines a moment ago: good enough to begin with, never to end with. */
export class RememberedMachines {
  private readonly machines = new Map<string, KnownMachine>();

  /** null unless all that are meant are remembered */
  find(wanted: readonly Wanted[]): Machines | null {
    const found = new Map<string, KnownMachine>();
    for (const key of referencesOf(wanted).keys()) {
      const machine = this.machines.get(key);
      if (machine === undefined) return null;
      found.set(key, machine);
    }
    return found;
  }

  keep(machines: Machines): void {
    if (this.machines.size + machines.size > MOST_REMEMBERED) this.machines.clear();
    for (const [key, machine] of machines) this.machines.set(key, machine);
  }
}

/** Do both know the same of every machine? */
export function isSame(a: Machines, b: Machines): boolean {
  if (a.size !== b.size) return false;
  for (const [key, { facts }] of a) if (b.get(key)?.facts !== facts) return false;
  return true;
}
