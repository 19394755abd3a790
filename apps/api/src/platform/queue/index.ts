export { jobParameters, jobProblem, jobResult } from './job-documents.js';
export { JobQueue } from './job-queue.js';
export { JobRunner } from './job-runner.js';
export { JobStore } from './job-store.js';
export { JobTasks, type RunningJob } from './job-tasks.js';
export { JobWorker } from './job-worker.js';
