import { NestFactory } from '@nestjs/core';
import { cutSchema, fixtureElementSchema, type CutIn } from '@repo/contracts';
import type { z } from 'zod';
import { AppModule } from './app.module.js';
import { readEnv } from './config/env.js';
import { toCutFigures as toFigures } from './modules/operations/index.js';
import { ConsequencesService, SizingModule } from './modules/sizing/index.js';
import { CircuitProofsService, type ProvedCircuit } from './modules/sizing/circuit-proofs.service.js';
import { SizingRecordsService } from './modules/sizing/sizing-records.service.js';
import type { Actor } from './platform/auth/actor.js';
import { Db } from './platform/db/index.js';

export type { Prisma } from './platform/db/index.js';
export { toStoredElements } from './modules/fixtures/index.js';
export { toHoldingElements } from './modules/operations/index.js';

/** Elements as a request would bring them: what is not said is filled in as the contract has it. */
export const toWholeElements = (elements: readonly z.input<typeof fixtureElementSchema>[]) =>
  elements.map((element) => fixtureElementSchema.parse(element));
/** A cut in SI, likewise. */
export const toCutFigures = (cut: CutIn) => toFigures(cutSchema.parse(cut));

export interface SeedingServices {
  /** Runs `work` in one transaction of this person. */
  as<T>(actor: Actor, work: () => Promise<T>): Promise<T>;
  /** Computes circuits anew after facts were written in bulk. */
  refresh(circuitIds: readonly string[]): Promise<void>;
  /** Proves circuits from what is recorded now, with what each proof looked up. */
  prove(circuitIds: readonly string[], basis: 'as-left' | 'target'): Promise<ProvedCircuit[]>;
  makeSizingRecord(record: {
    id: string;
    circuitId: string;
    basis: 'as-left' | 'target';
    note: string;
  }): Promise<unknown>;
}

/** The API's own rules without its door: for loading a demonstration or a test's data in bulk. */
export async function withSeeding<T>(
  urls: { appUrl: string; gateUrl: string },
  work: (services: SeedingServices) => Promise<T>,
): Promise<T> {
  const env = readEnv({
    DATABASE_URL: urls.appUrl,
    DATABASE_GATE_URL: urls.gateUrl,
    APP_SECRET: 'no cursor leaves from here, so any 32 bytes do',
    LOG_LEVEL: 'silent',
    WORKER: 'off',
    // Nobody waits for it as for an answer: a busy machine makes a demonstration late, not wrong.
    COMPUTE_SECONDS: '120',
  });
  const context = await NestFactory.createApplicationContext(AppModule.with(env), { logger: false });
  const db = context.get(Db);
  const sizing = context.select(SizingModule);
  const consequences = sizing.get(ConsequencesService);
  const ladders = sizing.get(CircuitProofsService);
  const records = sizing.get(SizingRecordsService);
  try {
    return await work({
      as: (actor, inner) => db.request(actor, 'seeding', inner),
      prove: (circuitIds, basis) => ladders.compute(circuitIds, basis),
      refresh: (circuitIds) => consequences.refresh(circuitIds),
      makeSizingRecord: (record) => records.create(record),
    });
  } finally {
    await context.close();
  }
}
