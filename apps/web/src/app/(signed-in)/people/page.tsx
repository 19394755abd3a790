import { PeoplePage } from '@/features/memberships';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.people');

export default function Page() {
  return <PeoplePage />;
}
