import type { Metadata } from 'next';
import { SitePage } from '@/features/sites';
import { AddMachine, MachineTable } from '@/features/machines';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'customers.sites') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SitePage siteId={id} machines={<MachineTable siteId={id} />} addMachine={<AddMachine siteId={id} />} />;
}
