import { OrganisationPage } from '@/features/organisations';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.organisation');

export default function Page() {
  return <OrganisationPage />;
}
