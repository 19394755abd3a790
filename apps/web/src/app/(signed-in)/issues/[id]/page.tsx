import type { Metadata } from 'next';
import { IssuePage } from '@/features/issues';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'issues.issue') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <IssuePage issueId={id} />;
}
