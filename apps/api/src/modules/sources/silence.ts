/** What is known of the reports of a machine. Times in ms. */
export interface MachineHearing {
  readonly machineId: string;
  readonly customerId: string;
  /** the end of its last interval; null: it has not reported yet */
  readonly reportedUntilMs: number | null;
  /** since when it was found silent before */
  readonly silentSinceMs: number | null;
  /** an issue has been opened for this silence */
  readonly isTold: boolean;
  /** the source that was heard last, of those that report of it; null: none does any more, or the machine is out of service */
  readonly source: {
    readonly id: string;
    readonly name: string;
    readonly heardAtMs: number;
    /** since when it is to report of the machine */
    readonly mappedAtMs: number;
    readonly silentAfterS: number;
  } | null;
}

export interface Judged {
  /** null: it is not silent */
  readonly silentSinceMs: number | null;
  readonly isTold: boolean;
  /** when to look again */
  readonly dueAtMs: number;
  /** whose silence an issue is opened for now, or ended; the gateway's where nothing came from it at all */
  readonly issue: { readonly about: 'machine' | 'source'; readonly isOver: boolean } | null;
}

const LOOK_AGAIN_MS = 60_000;
const DAY_MS = 86_400_000;

/**
 * A machine is silent once nothing has come of it for as long as its source allows: from the end of its last interval, or from when the
 * source was to report of it. Whether the machine alone or its gateway is silent shows by what the gateway has sent since; until that
 * is sure no issue is opened.
 */
export function judgeSilence(hearing: MachineHearing, nowMs: number): Judged {
  const { source, reportedUntilMs, silentSinceMs: before, isTold } = hearing;
  const over = before !== null && isTold ? ({ about: 'machine', isOver: true } as const) : null;
  if (source === null) return { silentSinceMs: null, isTold: false, dueAtMs: nowMs + DAY_MS, issue: over };
  const sinceMs = Math.max(reportedUntilMs ?? source.mappedAtMs, source.mappedAtMs);
  const allowedMs = source.silentAfterS * 1000;
  if (nowMs < sinceMs + allowedMs)
    return { silentSinceMs: null, isTold: false, dueAtMs: sinceMs + allowedMs, issue: over };
  const silence = { silentSinceMs: sinceMs, dueAtMs: nowMs + LOOK_AGAIN_MS };
  if (before !== null && isTold) return { ...silence, isTold, issue: null };
  if (source.heardAtMs >= sinceMs + allowedMs)
    return { ...silence, isTold: true, issue: { about: 'machine', isOver: false } };
  if (nowMs >= source.heardAtMs + allowedMs)
    return { ...silence, isTold: true, issue: { about: 'source', isOver: false } };
  return { ...silence, isTold: false, issue: null };
}
