import { routes } from '@repo/contracts';
import { FleetPage } from '@/features/standings';
import { FirstData } from '@/lib/api/first-data';
import { firstOf, firstPageOf } from '@/lib/api/first-read';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.fleet');

export default async function Page({ searchParams }: { searchParams: Promise<object> }) {
  // Of the plain page: what else the address may ask for is read by the page itself.
  const isPlain = Object.keys(await searchParams).length === 0;
  const reads = [
    firstPageOf(routes.standings.list, { query: { status: 'need', limit: 100 } }),
    firstOf(routes.standings.counts, { query: {} }),
    firstPageOf(routes.customers.list, { query: { limit: 200 } }),
  ];
  return (
    <FirstData reads={isPlain ? reads : []}>
      <FleetPage />
    </FirstData>
  );
}
