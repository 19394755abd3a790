'use client';

import { toMessage } from '@/messages';

/** When even the layout failed: nothing of ours can be relied on, so words alone. */
export default function GlobalError({ reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <html lang="en-GB">
      <body>
        <main>
          <h1>{toMessage('en', 'state.failed.title')}</h1>
          <p>{toMessage('en', 'problem.unknown')}</p>
          <button type="button" onClick={reset}>
            {toMessage('en', 'state.retry')}
          </button>
        </main>
      </body>
    </html>
  );
}
