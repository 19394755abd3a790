import type { Metadata } from 'next';
import { PeoplePage } from '@/features/memberships';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.people') };

export default function Page() {
  return <PeoplePage />;
}
