import type { Metadata } from 'next';
import { SizingRecordPage } from '@/features/sizing';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'sizing.record') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SizingRecordPage recordId={id} />;
}
