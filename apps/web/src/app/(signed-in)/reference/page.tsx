import type { Metadata } from 'next';
import { OpenApiReader } from '@/lib/openapi/openapi-reader';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'reference.title') };

export default function Page() {
  return <OpenApiReader />;
}
