const PARENT_LOOK_MS = 1_000;
/** npm passes Ctrl-C on to a child that has had it from the terminal already. */
const ECHO_MS = 1_000;

/**
 * Resolves when this process is asked to stop: Ctrl-C, a request to terminate, or the end of the npm that started it.
 * A second Ctrl-C ends at once.
 * @param {(text: string) => void} tell
 * @returns {Promise<void>}
 */
export function waitForInterrupt(tell) {
  return new Promise((resolve) => {
    let firstAt = 0;
    const onSignal = () => {
      if (firstAt === 0) {
        firstAt = Date.now();
        tell('\nstopping (Ctrl-C again ends at once)');
        resolve();
      } else if (Date.now() - firstAt > ECHO_MS) {
        process.exit(1);
      }
    };
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, onSignal);
    if (['start', 'dev'].includes(process.env.npm_lifecycle_event ?? '')) watchParent(onSignal);
  });
}

/**
 * npm started us and holds the terminal; when it is killed outright, nobody else would tell us.
 * @param {() => void} onEnd
 */
function watchParent(onEnd) {
  const parent = process.ppid;
  const timer = setInterval(() => {
    if (process.ppid === parent) return;
    clearInterval(timer);
    onEnd();
  }, PARENT_LOOK_MS);
  timer.unref();
}
