import type { Metadata } from 'next';
import { ForgottenPasswordPage } from '@/features/users';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'forgotten.title') };

export default function Page() {
  return <ForgottenPasswordPage />;
}
