import { ControlPage } from '@/features/signals';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('control.page');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <ControlPage machineId={id} />;
}
