import type { Metadata } from 'next';
import { OrganisationPage } from '@/features/organisations';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.organisation') };

export default function Page() {
  return <OrganisationPage />;
}
