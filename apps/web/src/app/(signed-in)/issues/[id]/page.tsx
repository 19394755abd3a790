import { IssuePage } from '@/features/issues';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('issues.issue');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <IssuePage issueId={id} />;
}
