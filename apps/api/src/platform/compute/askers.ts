import { AsyncLocalStorage } from 'node:async_hooks';
import { Injectable } from '@nestjs/common';
import type { Share } from '../fair-line.js';

/** Who waits for what is being computed. */
export interface Asker extends Share {
  /** aborted when nobody waits any more */
  readonly signal: AbortSignal | null;
  /** true where nobody sits before a page meanwhile, as in a job: it may take longer, for nobody would ask again */
  readonly isPatient: boolean;
}

/** What the service asks of itself, at its start and in its upkeep. */
const ITSELF: Asker = { organisation: '', person: '', signal: null, isPatient: true };

/** Finds again, wherever something is computed, for whom it is. */
@Injectable()
export class Askers {
  private readonly context = new AsyncLocalStorage<Asker>();

  run<T>(asker: Asker, work: () => T): T {
    return this.context.run(asker, work);
  }

  get current(): Asker {
    return this.context.getStore() ?? ITSELF;
  }
}
