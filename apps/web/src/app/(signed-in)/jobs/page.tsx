import { JobsPage } from '@/features/jobs';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.jobs');

export default function Page() {
  return <JobsPage />;
}
