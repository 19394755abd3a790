import type { Metadata } from 'next';
import { ImportsPage } from '@/features/imports';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.imports') };

export default function Page() {
  return <ImportsPage />;
}
