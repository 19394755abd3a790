import type { Metadata } from 'next';
import { SourcesPage } from '@/features/sources';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.sources') };

export default function Page() {
  return <SourcesPage />;
}
