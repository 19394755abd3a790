import type { Metadata } from 'next';
import { CustomersPage } from '@/features/customers';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.customers') };

export default function Page() {
  return <CustomersPage />;
}
