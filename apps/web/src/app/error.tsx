'use client';

import { CrashNote } from '@/lib/crash-note';

export default function PageError({ reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <main id="main">
      <CrashNote onRetry={reset} />
    </main>
  );
}
