import { ComponentTypesPage } from '@/features/components';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.componentTypes');

export default function Page() {
  return <ComponentTypesPage />;
}
