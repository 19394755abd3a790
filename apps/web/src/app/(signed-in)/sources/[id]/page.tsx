import type { Metadata } from 'next';
import { SourcePage } from '@/features/sources';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.sources') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SourcePage sourceId={id} />;
}
