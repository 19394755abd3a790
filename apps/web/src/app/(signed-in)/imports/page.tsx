import { ImportsPage } from '@/features/imports';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.imports');

export default function Page() {
  return <ImportsPage />;
}
