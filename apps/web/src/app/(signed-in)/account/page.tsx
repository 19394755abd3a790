import type { Metadata } from 'next';
import { JoinSheet } from '@/features/identity-providers';
import { AccountPage } from '@/features/users';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.account') };

export default function Page() {
  return <AccountPage more={<JoinSheet />} />;
}
