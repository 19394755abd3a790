import type { Metadata } from 'next';
import { CalculationsPage } from '@/features/calculations';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.calculations') };

export default function Page() {
  return <CalculationsPage />;
}
