/**
 * Where requests wait while a person signs in again. One dialog for all of them: the first that is refused opens it.
 * Without a dialog on the page (nobody was signed in yet) nothing waits, and the caller gets its refusal.
 */
type Listener = (isNeeded: boolean) => void;

let listener: Listener | null = null;
let waiting: ((isSignedIn: boolean) => void)[] = [];

/** Registers the dialog; returns what takes it away again. */
export function registerSignInDialog(open: Listener): () => void {
  listener = open;
  return () => {
    if (listener === open) listener = null;
    settleSignIn(false);
  };
}

export function waitForSignIn(): Promise<boolean> {
  if (listener === null) return Promise.resolve(false);
  const promise = new Promise<boolean>((resolve) => waiting.push(resolve));
  listener(true);
  return promise;
}

/** Called by the dialog: requests go on (true) or are refused (false). */
export function settleSignIn(isSignedIn: boolean): void {
  const resolvers = waiting;
  waiting = [];
  listener?.(false);
  for (const resolve of resolvers) resolve(isSignedIn);
}
