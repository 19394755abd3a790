/** A worker process of its own with tasks for tests: one that counts slowly, one that leaves a mark, one whose last transaction is long. */
import { appendFileSync } from 'node:fs';
import { setTimeout as delay } from 'node:timers/promises';
import { readEnv } from '@repo/api/env';
import { JobTasks } from '@repo/api/queue';
import { createWorker } from '@repo/api/worker';

const worker = await createWorker(readEnv());
const tasks = worker.get(JobTasks);
const marks = String(process.env.MARKS_FILE);
tasks.add('test-slow', async (job) => {
  appendFileSync(marks, `begin ${job.id} ${process.pid}\n`);
  const steps = Number(job.parameters.steps);
  for (let done = 0; done < steps; done += 1) {
    await job.progress('counting', done, steps);
    await delay(100);
  }
  appendFileSync(marks, `end ${job.id} ${process.pid}\n`);
  return { counted: steps };
});
tasks.add('test-mark', (job) => {
  appendFileSync(marks, `mark ${job.id} ${process.pid}\n`);
  return Promise.resolve({ pid: process.pid });
});
tasks.add('test-long-end', (job) =>
  job.finish(async () => {
    await delay(700);
    appendFileSync(marks, `end ${job.id} ${process.pid} ${Date.now()}\n`);
  }),
);
process.once('SIGTERM', () => void worker.close().then(() => process.exit(0)));
process.stdout.write('ready\n');
