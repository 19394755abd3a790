import type { Metadata } from 'next';
import { CalculationPage } from '@/features/calculations';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.calculations') };

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return <CalculationPage calculationId={id} />;
}
