import type { Metadata } from 'next';
import { ControlPage } from '@/features/signals';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'control.page') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <ControlPage machineId={id} />;
}
