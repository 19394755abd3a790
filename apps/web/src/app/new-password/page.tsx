import type { Metadata } from 'next';
import { NewPasswordPage } from '@/features/users';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'newPassword.title') };

export default function Page() {
  return <NewPasswordPage />;
}
