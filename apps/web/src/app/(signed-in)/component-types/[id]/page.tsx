import type { Metadata } from 'next';
import { ComponentTypePage } from '@/features/components';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.componentTypes') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <ComponentTypePage typeId={id} />;
}
