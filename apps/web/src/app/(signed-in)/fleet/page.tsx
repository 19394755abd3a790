import { routes } from '@repo/contracts';
import { FleetPage } from '@/features/standings';
import { FirstData } from '@/lib/api/first-data';
import { firstOf, firstPageOf } from '@/lib/api/first-read';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.fleet');

export default function Page() {
  const reads = [
    firstPageOf(routes.standings.list, { query: { status: 'need', limit: 40 } }),
    firstOf(routes.standings.counts, { query: {} }),
    firstPageOf(routes.customers.list, { query: { limit: 200 } }),
  ];
  return (
    <FirstData reads={reads}>
      <FleetPage />
    </FirstData>
  );
}
