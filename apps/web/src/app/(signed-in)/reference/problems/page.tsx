import { ProblemList } from '@/lib/openapi/problem-list';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('reference.problems');

export default function Page() {
  return <ProblemList />;
}
