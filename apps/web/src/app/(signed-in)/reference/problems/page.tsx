import type { Metadata } from 'next';
import { ProblemList } from '@/lib/openapi/problem-list';
import { toMessage } from '@/messages';

export const metadata: Metadata = { title: toMessage('en', 'reference.problems') };

export default function Page() {
  return <ProblemList />;
}
