import { CalculationPage } from '@/features/calculations';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.calculations');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <CalculationPage calculationId={id} />;
}
