import type { Metadata } from 'next';
import { InvitationPage } from '@/features/memberships';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'invitation.opening') };

export default function Page() {
  return <InvitationPage />;
}
