import { SourcesPage } from '@/features/sources';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.sources');

export default function Page() {
  return <SourcesPage />;
}
