import type { Metadata } from 'next';
import { IssuesPage } from '@/features/issues';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.issues') };

export default function Page() {
  return <IssuesPage />;
}
