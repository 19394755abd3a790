import type { Metadata } from 'next';
import { NewIssuePage } from '@/features/issues';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'issues.new') };

export default function Page() {
  return <NewIssuePage />;
}
