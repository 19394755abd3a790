import { PortalPage } from '@/features/machines';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.portal');

export default function Page() {
  return <PortalPage />;
}
