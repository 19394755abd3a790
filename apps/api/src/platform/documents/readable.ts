import { Logger } from '@nestjs/common';
import { AppError } from '../errors/app-error.js';

const log = new Logger('Documents');

/**
 * The records of a list. One with a stored document that cannot be read does not stop its neighbours: it is left out here and said in the
 * log; asked for by itself it is refused.
 */
export function readable<Row, Shown>(rows: readonly Row[], show: (row: Row) => Shown): Shown[] {
  return rows.flatMap((row) => {
    try {
      return [show(row)];
    } catch (error) {
      if (!(error instanceof AppError) || error.code !== 'record.unreadable') throw error;
      log.warn(error.message);
      return [];
    }
  });
}
