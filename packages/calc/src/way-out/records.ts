import type { ProvedCheck, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';

const nameOf = ({ field, ref }: MissingFigure): string => [field, ref?.entity, ref?.id, ref?.name].join();

/** What has to be found out before the checks that are not proven can be, each figure once. */
export function listRecords(checks: readonly ProvedCheck[]): MissingFigure[] {
  const missing = checks.filter(({ status }) => status === 'unproven').flatMap((check) => check.missing);
  return [...new Map(missing.map((one) => [nameOf(one), one])).values()];
}

/** What was to be found out before anything was changed. */
export class Records {
  private readonly known: ReadonlySet<string>;

  constructor(checks: readonly ProvedCheck[]) {
    this.known = new Set(checks.flatMap(({ missing }) => missing.map(nameOf)));
  }

  /** What was not known before has to be found out whatever is done. */
  countNew(checks: readonly ProvedCheck[]): number {
    return listRecords(checks).filter((record) => !this.known.has(nameOf(record))).length;
  }
}
