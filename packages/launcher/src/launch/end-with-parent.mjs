/**
 * Loaded into each child before its own code. The channel to the launcher closes when the launcher ends, also by
 * kill -9: then this process asks itself to stop as it would be asked from outside, and insists after a while.
 */
import { isMainThread } from 'node:worker_threads';

const PATIENCE_MS = 8_000;

if (isMainThread && process.channel) {
  process.once('disconnect', () => {
    setTimeout(() => process.exit(1), PATIENCE_MS).unref();
    process.kill(process.pid, 'SIGTERM');
  });
  // Listening must not keep a process alive that has nothing else to do.
  process.channel.unref();
}
