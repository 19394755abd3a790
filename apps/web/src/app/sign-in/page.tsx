import type { Metadata } from 'next';
import { SignInPage } from '@/features/users';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'signIn.title') };

export default function Page() {
  return <SignInPage />;
}
