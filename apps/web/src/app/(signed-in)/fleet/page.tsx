import { routes } from '@repo/contracts';
import { FleetPage } from '@/features/standings';
import { readEarly } from '@/lib/api/read-early';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.fleet');

export default async function Page({ searchParams }: { searchParams: Promise<object> }) {
  // Of the plain page: what else the address may ask for is told by the page itself.
  if (Object.keys(await searchParams).length === 0) {
    await readEarly(routes.standings.list, { query: { status: 'need', limit: 100 } });
    await readEarly(routes.standings.counts, {});
    await readEarly(routes.customers.list, { query: { limit: 200 } });
  }
  return <FleetPage />;
}
