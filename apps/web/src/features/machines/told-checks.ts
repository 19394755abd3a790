/** The checks that a circuit's verdict tells: the two worst, and of those that are not proven one. */
export function toldChecks<C extends { status: string }>(ladder: { status: string; checks: readonly C[] }): C[] {
  const worst = ladder.checks.filter((check) => check.status === ladder.status);
  // What is not known to one check is mostly not known to the next; told twice it reads like a mistake.
  return worst.slice(0, ladder.status === 'unproven' ? 1 : 2);
}
