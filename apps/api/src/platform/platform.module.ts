import { Global, Module, type DynamicModule } from '@nestjs/common';
import { APP_FILTER, APP_GUARD, APP_INTERCEPTOR } from '@nestjs/core';
import { ENV, type Env } from '../config/env.js';
import { Audit } from './audit/audit.js';
import { AuditHeadKeeper } from './audit/head-keeper.js';
import { AuditSealer } from './audit/sealer.js';
import { ApiKeys } from './auth/api-keys.js';
import { AccessGuard } from './auth/access.guard.js';
import { Passwords } from './auth/passwords.js';
import { Sessions } from './auth/sessions.js';
import { Vault } from './auth/vault.js';
import { Askers, ComputePool } from './compute/index.js';
import { Db, Gate, Numbers } from './db/index.js';
import { KeptFiles } from './files/kept-files.js';
import { Mail } from './mail/mail.js';
import { ProblemFilter } from './errors/problem.filter.js';
import { Cursors } from './http/cursor.js';
import { RateLimits } from './http/rate-limits.js';
import { RouteInterceptor } from './http/route.interceptor.js';
import { JobQueue, JobRunner, JobStore, JobTasks, JobWorker } from './queue/index.js';
import { Rounds, RoundsRepository } from './rounds/index.js';

const shared = [
  Db,
  Gate,
  Numbers,
  Audit,
  AuditSealer,
  AuditHeadKeeper,
  Passwords,
  Sessions,
  ApiKeys,
  RateLimits,
  Vault,
  Mail,
  Cursors,
  KeptFiles,
  Askers,
  ComputePool,
  JobQueue,
  JobTasks,
  JobStore,
  JobRunner,
  JobWorker,
  Rounds,
  RoundsRepository,
];

/** What every module stands on. Knows nothing of the domain. */
@Global()
@Module({})
export class PlatformModule {
  static with(env: Env): DynamicModule {
    return {
      module: PlatformModule,
      providers: [
        { provide: ENV, useValue: env },
        ...shared,
        { provide: APP_GUARD, useClass: AccessGuard },
        { provide: APP_INTERCEPTOR, useClass: RouteInterceptor },
        { provide: APP_FILTER, useClass: ProblemFilter },
      ],
      exports: [{ provide: ENV, useValue: env }, ...shared],
    };
  }
}
