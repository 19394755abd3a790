import { ComponentTypePage } from '@/features/components';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.componentTypes');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <ComponentTypePage typeId={id} />;
}
