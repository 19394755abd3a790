import type { Metadata } from 'next';
import { ProviderSignInPage } from '@/features/identity-providers';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'signIn.title') };

export default function Page() {
  return <ProviderSignInPage />;
}
