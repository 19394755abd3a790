'use client';

import { CrashNote } from '@/lib/crash-note';

/** Inside the frame, so that the way to other places stays. */
export default function PageError({ reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return <CrashNote onRetry={reset} />;
}
