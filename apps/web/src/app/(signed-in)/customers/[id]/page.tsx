import { CustomerPage } from '@/features/customers';
import { FixturesPanel } from '@/features/fixtures';
import { MachineTable } from '@/features/machines';
import { AddSite } from '@/features/sites';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.customers');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return (
    <CustomerPage
      customerId={id}
      machines={<MachineTable customerId={id} />}
      addSite={<AddSite customerId={id} />}
      fixtures={<FixturesPanel customerId={id} />}
    />
  );
}
