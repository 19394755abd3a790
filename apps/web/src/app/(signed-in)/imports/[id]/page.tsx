import type { Metadata } from 'next';
import { ImportPage } from '@/features/imports';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.imports') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <ImportPage id={id} />;
}
