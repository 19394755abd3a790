import { Injectable } from '@nestjs/common';
import type { CountsSql } from './counts-sql.js';
import type { Written } from './take-in.js';

/** Looks at what changed with the circuit's rule, in the transaction of the counts. */
@Injectable()
export class AlarmRulesEvaluator {
  evaluate(_sql: CountsSql, _organisationId: string, _written: Written): Promise<void> {
    return Promise.resolve();
  }
}
