import { Logger } from '@nestjs/common';
import { AppError } from '../errors/app-error.js';

const log = new Logger('Documents');

/**
 * The records of a list. One with a stored document that cannot be read does not stop its neighbours: it is left out here, counted, and
 * said in the log; asked for by itself it is refused.
 */
export function readable<Row, Shown>(
  rows: readonly Row[],
  show: (row: Row) => Shown,
): { items: Shown[]; unreadable: number } {
  const items: Shown[] = [];
  for (const row of rows) {
    try {
      items.push(show(row));
    } catch (error) {
      if (!(error instanceof AppError) || error.code !== 'record.unreadable') throw error;
      log.warn(error.message);
    }
  }
  return { items, unreadable: rows.length - items.length };
}
