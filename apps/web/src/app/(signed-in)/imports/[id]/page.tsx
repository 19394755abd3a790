import { ImportPage } from '@/features/imports';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.imports');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <ImportPage id={id} />;
}
