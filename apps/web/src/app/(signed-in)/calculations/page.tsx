import { routes } from '@repo/contracts';
import { CalculationsPage } from '@/features/calculations';
import { FirstData } from '@/lib/api/first-data';
import { firstOf } from '@/lib/api/first-read';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.calculations');

export default function Page() {
  return (
    <FirstData reads={[firstOf(routes.calculations.list, {})]}>
      <CalculationsPage />
    </FirstData>
  );
}
