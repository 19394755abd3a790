/**
 * Loaded into each child before its own code. The channel to the launcher closes when the launcher ends, also by
 * kill -9: then this process asks itself to stop as it would be asked from outside, and insists after a while.
 */
import { isMainThread } from 'node:worker_threads';

const PATIENCE_MS = 8_000;
/** `next dev` passes on how it was started to a worker of its own, whose channel is not ours to let go of. */
const isWorkerOfNext = process.env.NEXT_PRIVATE_WORKER === '1';

if (isMainThread && !isWorkerOfNext && process.channel) {
  process.once('disconnect', () => {
    setTimeout(() => process.exit(1), PATIENCE_MS).unref();
    process.kill(process.pid, 'SIGTERM');
  });
  // Listening must not keep a process alive that has nothing else to do.
  process.channel.unref();
}
