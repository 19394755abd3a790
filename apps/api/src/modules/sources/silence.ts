/** What is known of the reports of a machine. Times in ms. */
export interface MachineHearing {
  readonly machineId: string;
  readonly customerId: string;
  /** the end of its last interval; null: it has not reported yet */
  readonly reportedUntilMs: number | null;
  /** since when it was found silent before */
  readonly silentSinceMs: number | null;
  /** an issue of its own has been opened for this silence; that of its gateway stands for all the machines of it */
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

/** Whose silence an issue is opened for, or ended. */
export interface SilenceIssue {
  readonly about: 'machine' | 'source';
  readonly isOver: boolean;
}

export interface Judged {
  /** null: it is not silent */
  readonly silentSinceMs: number | null;
  readonly isTold: boolean;
  /** when to look again */
  readonly dueAtMs: number;
  /** the gateway's, at every look: opened where nothing came from it at all, ended otherwise; what is so already is not changed by it */
  readonly issues: readonly SilenceIssue[];
}

const LOOK_AGAIN_MS = 60_000;
const DAY_MS = 86_400_000;

/**
 * A machine is silent once nothing has come of it for as long as its source allows: from the end of its last interval, or from when the
 * source was to report of it. Whether the machine alone or its gateway is silent shows by what the gateway has sent since; until that
 * is sure no issue is opened. A gateway that sends again is not silent, whatever it says of the machine; nor is one that is allowed to
 * be quiet for longer by now.
 */
export function judgeSilence(hearing: MachineHearing, nowMs: number): Judged {
  const { source, reportedUntilMs, silentSinceMs: before, isTold } = hearing;
  const ownIsOver: SilenceIssue[] = before !== null && isTold ? [{ about: 'machine', isOver: true }] : [];
  const quiet = { silentSinceMs: null, isTold: false };
  if (source === null) return { ...quiet, dueAtMs: nowMs + DAY_MS, issues: ownIsOver };
  const gatewayIsOver: SilenceIssue = { about: 'source', isOver: true };
  const sinceMs = Math.max(reportedUntilMs ?? source.mappedAtMs, source.mappedAtMs);
  const allowedMs = source.silentAfterS * 1000;
  if (nowMs < sinceMs + allowedMs) {
    return { ...quiet, dueAtMs: sinceMs + allowedMs, issues: [gatewayIsOver, ...ownIsOver] };
  }
  const silence = { silentSinceMs: sinceMs, dueAtMs: nowMs + LOOK_AGAIN_MS };
  if (before !== null && isTold) return { ...silence, isTold, issues: [gatewayIsOver] };
  if (source.heardAtMs >= sinceMs + allowedMs) {
    return { ...silence, isTold: true, issues: [gatewayIsOver, { about: 'machine', isOver: false }] };
  }
  return { ...silence, isTold: false, issues: [{ about: 'source', isOver: !isGatewaySilent(source, nowMs) }] };
}

/** Nothing has come from it for as long as it is allowed to be quiet. */
export const isGatewaySilent = (
  { heardAtMs, silentAfterS }: { readonly heardAtMs: number; readonly silentAfterS: number },
  nowMs: number,
): boolean => nowMs >= heardAtMs + silentAfterS * 1000;
