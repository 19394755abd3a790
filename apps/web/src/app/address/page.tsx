import type { Metadata } from 'next';
import { AddressPage } from '@/features/users';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'address.title') };

export default function Page() {
  return <AddressPage />;
}
