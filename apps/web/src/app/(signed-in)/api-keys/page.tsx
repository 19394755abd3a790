import type { Metadata } from 'next';
import { ApiKeysPage } from '@/features/api-keys';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.apiKeys') };

export default function Page() {
  return <ApiKeysPage />;
}
