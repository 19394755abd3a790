import { FleetPage } from '@/features/standings';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.fleet');

export default function Page() {
  return <FleetPage />;
}
