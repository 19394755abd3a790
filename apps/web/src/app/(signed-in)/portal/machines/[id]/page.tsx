import type { Metadata } from 'next';
import { SetupPage } from '@/features/machines';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'machine.setupRecord') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SetupPage machineId={id} />;
}
