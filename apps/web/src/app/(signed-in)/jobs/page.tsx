import type { Metadata } from 'next';
import { JobsPage } from '@/features/jobs';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.jobs') };

export default function Page() {
  return <JobsPage />;
}
