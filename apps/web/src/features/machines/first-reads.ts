import { routes } from '@repo/contracts';
import { firstOf, type FirstRead } from '@/lib/api/first-read';

/** What a machine's page reads first, of the machine as it is now. */
export const listFirstReads = (id: string): FirstRead[] => [
  firstOf(routes.machines.overview, { params: { id }, query: { basis: 'as-left' } }),
];
