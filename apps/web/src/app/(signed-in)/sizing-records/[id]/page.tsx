import { SizingRecordPage } from '@/features/sizing';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('sizing.record');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SizingRecordPage recordId={id} />;
}
