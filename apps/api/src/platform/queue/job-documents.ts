import { jobSchema, type Job } from '@repo/contracts';
import { storedDocument } from '../documents/index.js';

const { parameters, result, problem } = jobSchema.shape;

export const jobParameters = storedDocument<Job['parameters']>({ name: 'parameters of a job', schema: parameters });
export const jobResult = storedDocument<Job['result']>({ name: 'result of a job', schema: result });
export const jobProblem = storedDocument<Job['problem']>({ name: 'problem of a job', schema: problem });
