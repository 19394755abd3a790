import { SetupPage } from '@/features/machines';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('machine.setupRecord');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SetupPage machineId={id} />;
}
