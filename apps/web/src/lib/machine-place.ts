import { routes } from '@repo/contracts';
import { readEarly } from '@/lib/api/read-early';

/** Where a machine's page stands: which machine, on which day and basis. */
export interface MachinePlace {
  params: Promise<{ id: string }>;
  searchParams: Promise<{ on?: string; basis?: string }>;
}

/** The machine; what its page reads first is asked for already, where it is the machine as it is now. */
export async function readMachinePlace({ params, searchParams }: MachinePlace): Promise<string> {
  const [{ id }, { on, basis }] = await Promise.all([params, searchParams]);
  const isNow = on === undefined && basis === undefined;
  if (isNow) await readEarly(routes.machines.overview, { params: { id }, query: { basis: 'as-left' } });
  return id;
}
