import { NewIssuePage } from '@/features/issues';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('issues.new');

export default function Page() {
  return <NewIssuePage />;
}
