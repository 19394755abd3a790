import { UnreadableFile } from './sheet-model.js';

/** Work on a file: the address of what does it, as its default export, and what that is given. */
export interface ApartQuestion {
  readonly work: string;
  readonly data: unknown;
}
export type ApartAnswer =
  | { readonly result: unknown }
  | { readonly problem: { readonly code: string; readonly params: Record<string, string | number> } }
  | { readonly error: string };

async function answerTo({ work, data }: ApartQuestion): Promise<ApartAnswer> {
  try {
    const { default: perform } = (await import(work)) as { default: (data: unknown) => unknown };
    return { result: await perform(data) };
  } catch (error) {
    if (error instanceof UnreadableFile) return { problem: { code: error.code, params: error.params } };
    return { error: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

process.once('message', (question: ApartQuestion) => {
  void answerTo(question).then((answer) => process.send?.(answer, () => process.disconnect()));
});
// Whoever asked decides when this ends: a signal for all of them at once would lose a file that is nearly read.
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => undefined);
process.once('disconnect', () => process.exit());
