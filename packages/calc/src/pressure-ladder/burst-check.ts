import { judgeCheck, same, type CheckDraft } from './judge-check.js';
import type { PressureFigures } from './pressure-figures.js';
import type { BurstFigures, ProvedCheck } from './pressure-ladder.types.js';
import { SEVERITY } from './setting-check.js';
import { add, isExact, known, mostOf, multiply, toSpan } from './span.js';

/** Check 1 once a hose has burst: what flows out of it while switch and control react is lost too. */
function judgeBurst(draft: CheckDraft, { required, input }: PressureFigures, burst: BurstFigures): ProvedCheck {
  const { ref, ratePaPerS } = burst;
  const demand = add(required.span, multiply(toSpan(ratePaPerS), toSpan(input.hold.reactionTimeS)));
  return judgeCheck({
    ...draft,
    demand: { ...same(demand), worstCase: { lo: demand.lo, hi: mostOf(demand, draft.demand.worstCase).hi } },
    failReason: 'burst-hose',
    subject: ref,
    missing: [...draft.missing, ...(known(ratePaPerS) === null ? [{ field: 'burstRatePaPerS', ref }] : [])],
    errors: draft.errors && { ...draft.errors, marginPa: draft.capacity.nominal.lo - demand.lo },
  });
}

/** What nobody has said decides: whether a check valve keeps the clamps' oil from that hose. */
function asUnsaid(ofBurst: ProvedCheck, check: ProvedCheck): ProvedCheck {
  if (SEVERITY[ofBurst.status] <= SEVERITY[check.status]) return ofBurst;
  const missing = [...ofBurst.missing, { field: 'isBeyondShutOff', ref: ofBurst.subject }];
  return { ...ofBurst, status: 'unproven', reason: 'missing', probability: null, missing };
}

/**
 * Check 1 with the case of a hose that bursts: from the switch's falling point on the circuit loses what flows out of it while switch and
 * control react. A flow that somebody typed must be survived, and decides. The pump's own flow is shown, and warned of beside the check:
 * no switch and no control is quick enough for it, only a check valve between hose and clamps, so that it would fail every circuit alike.
 */
export function withBurst(draft: CheckDraft, figures: PressureFigures): ProvedCheck {
  const check = judgeCheck(draft);
  const { burst = null, burstIfBeyond = null, reactionTimeS } = figures.input.hold;
  const bursts = [
    ...(burst === null ? [] : [{ burst, ofBurst: judgeBurst(draft, figures, burst) }]),
    ...(burstIfBeyond === null
      ? []
      : [{ burst: burstIfBeyond, ofBurst: asUnsaid(judgeBurst(draft, figures, burstIfBeyond), check) }]),
  ];
  if (bursts.length === 0) return check;
  const shown = bursts.map(({ burst: { ref, mustHold }, ofBurst: { status } }) => ({
    reason: 'burst-hose' as const,
    subject: ref,
    status: mustHold || status === 'holds' ? status : ('marginal' as const),
  }));
  const pairs = [...shown, { reason: check.reason, subject: check.subject, status: check.status }].sort(
    (a, b) => SEVERITY[b.status] - SEVERITY[a.status],
  );
  const losses = bursts
    .map(({ burst: { ratePaPerS } }) => multiply(toSpan(ratePaPerS), toSpan(reactionTimeS)))
    .filter(isExact);
  const parameters =
    losses.length === 0
      ? check.parameters
      : { ...check.parameters, burstLossPa: Math.max(...losses.map((lost) => lost.lo)) };
  const worst = bursts
    .filter(({ burst: { mustHold } }) => mustHold)
    .reduce((most, { ofBurst }) => (SEVERITY[ofBurst.status] > SEVERITY[most.status] ? ofBurst : most), check);
  return { ...worst, parameters, pairs };
}
