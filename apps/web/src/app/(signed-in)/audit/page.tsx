import type { Metadata } from 'next';
import { AuditPage } from '@/features/audit';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.audit') };

export default function Page() {
  return <AuditPage />;
}
