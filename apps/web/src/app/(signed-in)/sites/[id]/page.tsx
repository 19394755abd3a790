import { SitePage } from '@/features/sites';
import { AddMachine, MachineTable } from '@/features/machines';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('customers.sites');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SitePage siteId={id} machines={<MachineTable siteId={id} />} addMachine={<AddMachine siteId={id} />} />;
}
