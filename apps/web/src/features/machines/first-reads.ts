import { routes } from '@repo/contracts';
import { firstOf, type FirstRead } from '@/lib/api/first-read';

/** How a machine's page is addressed. */
export interface MachinePlace {
  params: Promise<{ id: string }>;
  searchParams: Promise<{ on?: string; basis?: string }>;
}

/** What a machine's page reads first, of the machine as it is now; another day or basis the page asks for by itself. */
export const listFirstReads = (id: string, { on, basis }: Awaited<MachinePlace['searchParams']>): FirstRead[] =>
  on === undefined && basis === undefined
    ? [firstOf(routes.machines.overview, { params: { id }, query: { basis: 'as-left' } })]
    : [];
