type Listener = (name: string) => void;
const listeners = new Set<Listener>();

/** A draft was taken up again, or is gone: whoever offers it need not do so any longer. */
export function tellDraftChange(name: string): void {
  for (const listener of listeners) listener(name);
}

export function onDraftChange(listener: Listener): () => void {
  listeners.add(listener);
  return () => {
    listeners.delete(listener);
  };
}
