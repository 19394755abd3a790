import { IssuesPage } from '@/features/issues';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.issues');

export default function Page() {
  return <IssuesPage />;
}
