import type { Metadata } from 'next';
import { PortalPage } from '@/features/machines';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.portal') };

export default function Page() {
  return <PortalPage />;
}
