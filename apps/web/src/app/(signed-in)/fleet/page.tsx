import type { Metadata } from 'next';
import { FleetPage } from '@/features/circuits';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.fleet') };

export default function Page() {
  return <FleetPage />;
}
