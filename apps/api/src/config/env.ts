import { readFileSync } from 'node:fs';
import { z } from 'zod';

const fileSchema = z
  .string()
  .min(1)
  .transform((path) => readFileSync(path, 'utf8'));

const envSchema = z.object({
  HOST: z.string().default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65535).default(4800),
  /** login of the requests: member of org_staff and org_customer, no rights of its own */
  DATABASE_URL: z.string().min(1),
  /** login of the gate: people, sessions, keys */
  DATABASE_GATE_URL: z.string().min(1),
  DATABASE_POOL: z.coerce.number().int().min(2).max(200).default(10),
  /** at least 32 bytes; signs cursors */
  APP_SECRET: z.string().min(32),
  /** where Next answers; without it only the API is served */
  WEB_URL: z.url().optional(),
  TLS_CERT: fileSchema.optional(),
  TLS_KEY: fileSchema.optional(),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'silent']).default('info'),
  /** requests a minute from one session or address */
  RATE_LIMIT: z.coerce.number().int().min(10).default(1200),
  /** whether this process also works on background jobs; `node apps/api/dist/worker.js` does nothing else */
  WORKER: z.enum(['inside', 'off']).default('inside'),
  /** jobs at once in this process */
  WORKER_JOBS: z.coerce.number().int().min(1).max(16).default(2),
  /** threads that compute what may take long; by default one fewer than there are cores, and two at least */
  COMPUTE_THREADS: z.coerce.number().int().min(1).max(64).optional(),
  /** how long one calculation may take in them, seconds */
  COMPUTE_SECONDS: z.coerce.number().min(0.05).max(600).default(5),
  /** deliveries a minute from one source of alarm counts */
  SOURCE_RATE_LIMIT: z.coerce.number().int().min(1).default(6000),
  SESSION_HOURS: z.coerce
    .number()
    .min(0.01)
    .max(24 * 30)
    .default(12),
});
export type Env = z.infer<typeof envSchema>;

export class EnvError extends Error {}

/** Reads the environment once, at start-up. */
export function readEnv(source: NodeJS.ProcessEnv = process.env): Env {
  const parsed = envSchema.safeParse(source);
  if (!parsed.success) {
    const lines = parsed.error.issues.map((issue) => `  ${issue.path.join('.')}: ${issue.message}`);
    throw new EnvError(`The environment is not complete:\n${lines.join('\n')}`);
  }
  if ((parsed.data.TLS_CERT === undefined) !== (parsed.data.TLS_KEY === undefined)) {
    throw new EnvError('TLS_CERT and TLS_KEY go together: give both or neither.');
  }
  return parsed.data;
}

export const ENV = Symbol('env');
