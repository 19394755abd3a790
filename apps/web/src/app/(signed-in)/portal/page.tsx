import { routes } from '@repo/contracts';
import { PortalPage } from '@/features/machines';
import { FirstData } from '@/lib/api/first-data';
import { firstOf, firstPageOf } from '@/lib/api/first-read';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.portal');

export default function Page() {
  const reads = [
    firstPageOf(routes.standings.list, { query: { status: 'all', limit: 25 } }),
    firstOf(routes.standings.counts, { query: {} }),
  ];
  return (
    <FirstData reads={reads}>
      <PortalPage />
    </FirstData>
  );
}
