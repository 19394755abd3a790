import { SourcePage } from '@/features/sources';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.sources');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <SourcePage sourceId={id} />;
}
