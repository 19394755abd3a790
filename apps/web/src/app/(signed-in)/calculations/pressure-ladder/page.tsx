import { HandPressureLadderPage } from '@/features/calculations';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.calculations');

export default function Page() {
  return <HandPressureLadderPage />;
}
