import type { Metadata } from 'next';
import { ComponentTypesPage } from '@/features/components';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'nav.componentTypes') };

export default function Page() {
  return <ComponentTypesPage />;
}
