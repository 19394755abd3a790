import { routes } from '@repo/contracts';
import { firstOf, type FirstRead } from '@/lib/api/first-read';

/** What a machine's page reads first, of the machine as it is now; another day or basis the page asks for by itself. */
export const listFirstReads = (id: string, { on, basis }: { on?: string; basis?: string }): FirstRead[] =>
  on === undefined && basis === undefined
    ? [firstOf(routes.machines.overview, { params: { id }, query: { basis: 'as-left' } })]
    : [];
