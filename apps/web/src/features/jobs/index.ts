export { JobOutcome } from './components/job-outcome';
export { JobProgress } from './components/job-progress';
export { JobsPage } from './components/jobs-page';
export { isOpenJob, useJob } from './use-jobs';
