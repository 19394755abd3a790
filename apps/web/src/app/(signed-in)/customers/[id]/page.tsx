import type { Metadata } from 'next';
import { CustomerPage } from '@/features/customers';
import { FixturesSheet } from '@/features/fixtures';
import { MachineTable } from '@/features/machines';
import { AddSite } from '@/features/sites';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.customers') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return (
    <CustomerPage
      customerId={id}
      machines={<MachineTable customerId={id} />}
      addSite={<AddSite customerId={id} />}
      fixtures={<FixturesSheet customerId={id} />}
    />
  );
}
