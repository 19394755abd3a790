/**
 * Where requests wait while a person signs in again, or confirms who they are. One dialog for all of them: the first that is refused
 * opens it. Without a dialog on the page (nobody was signed in yet) nothing waits, and the caller gets its refusal.
 */
type Listener = (isNeeded: boolean) => void;

export interface RequestGate {
  /** Registers the dialog; returns what takes it away again. */
  register(open: Listener): () => void;
  /** Whether the request may be sent again. */
  wait(): Promise<boolean>;
  /** Called by the dialog: requests go on (true) or are refused (false). */
  settle(canGoOn: boolean): void;
}

function createGate(): RequestGate {
  let listener: Listener | null = null;
  let waiting: ((canGoOn: boolean) => void)[] = [];
  const settle = (canGoOn: boolean): void => {
    const resolvers = waiting;
    waiting = [];
    listener?.(false);
    for (const resolve of resolvers) resolve(canGoOn);
  };
  return {
    settle,
    register: (open) => {
      listener = open;
      return () => {
        if (listener === open) listener = null;
        settle(false);
      };
    },
    wait: () => {
      if (listener === null) return Promise.resolve(false);
      const promise = new Promise<boolean>((resolve) => waiting.push(resolve));
      listener(true);
      return promise;
    },
  };
}

/** The session has ended. */
export const signInGate = createGate();
/** The session goes on, but what is asked for wants to be sure who it is. */
export const proofGate = createGate();
