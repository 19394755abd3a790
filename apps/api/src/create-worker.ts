import type { INestApplicationContext } from '@nestjs/common';
import { NestFactory } from '@nestjs/core';
import { AppModule } from './app.module.js';
import type { Env } from './config/env.js';

/** A process that works on background jobs and serves nothing: as many as wanted, each job is claimed by one of them. */
export function createWorker(env: Env): Promise<INestApplicationContext> {
  return NestFactory.createApplicationContext(AppModule.with({ ...env, WORKER: 'inside' }), {
    logger: env.LOG_LEVEL === 'silent' ? false : ['error', 'warn'],
  });
}
