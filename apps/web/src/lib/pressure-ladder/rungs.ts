import { CHECKS } from '@repo/calc/checks';
import type { PressureLadder, Status } from '@repo/contracts';
import type { DrawnCircuit, DrawnRung, StatusShape } from '@repo/drawing';
import type { Translate } from '@/lib/i18n/i18n';

export type Rung = PressureLadder['rungs'][number];
export type Check = PressureLadder['checks'][number];

/** Rungs whose colour a check decides. */
const speaksOf = (code: Check['code']): readonly Rung['code'][] => CHECKS[code].rungs;
const WORST_FIRST: readonly Status[] = ['fails', 'unproven', 'marginal', 'holds', 'not-applicable'];

export function getWorst(statuses: readonly Status[]): Status {
  return WORST_FIRST.find((status) => statuses.includes(status)) ?? 'not-applicable';
}

/**
 * What stands at one mark: components of the same rating share theirs, every other rung has its own.
 * The id is the rung's name on the page and in the address; stable while the same things are fitted.
 */
export interface RungGroup {
  id: string;
  rungs: readonly [Rung, ...Rung[]];
}

export function toRungGroups(rungs: readonly Rung[]): RungGroup[] {
  const groups = new Map<string, [Rung, ...Rung[]]>();
  for (const rung of rungs) {
    // "Does not limit" is an answer, not a figure that is missing.
    if (rung.pressurePa === null && rung.basis === 'not-limiting') continue;
    const isShared = rung.code === 'rating' && rung.pressurePa !== null;
    const unsharedKey = `${rung.code}-${rung.ref?.id ?? ''}`;
    const key = isShared ? `rating-${rung.isWeakest ? 'weakest' : Math.round(rung.pressurePa ?? 0)}` : unsharedKey;
    const group = groups.get(key);
    if (group !== undefined && isShared) group.push(rung);
    else groups.set(group === undefined ? key : `${key}-${groups.size}`, [rung]);
  }
  return [...groups].map(([key, members]) => ({
    id: members[0].code === 'rating' ? key : members[0].code,
    rungs: members,
  }));
}

export function toGroupLabel({ rungs }: RungGroup, t: Translate): string {
  return rungs.length === 1 ? toRungLabel(rungs[0], t) : t('rung.several', { count: rungs.length });
}

export function toRungLabel(rung: Rung, t: Translate): string {
  const name = rung.ref?.name ?? '';
  if (rung.code === 'rating') return name === '' ? t('rung.rating') : name;
  if (name !== '' && (rung.code === 'required' || rung.code === 'workpiece-limit')) {
    return t(`rung.${rung.code}.of`, { name });
  }
  return t(`rung.${rung.code}`);
}

function toRungStatus(rung: Rung, checks: readonly Check[]): StatusShape | null {
  const speaking = checks.filter((check) => speaksOf(check.code).includes(rung.code));
  const loud = speaking.map((check) => check.status).filter((status) => status === 'fails' || status === 'marginal');
  return loud.length === 0 ? null : getWorst(loud);
}

export function toDrawnCircuit(
  circuit: { id: string; title: string; subtitle: string | null; ladder: PressureLadder },
  t: Translate,
): DrawnCircuit {
  const { ladder } = circuit;
  const rungs: DrawnRung[] = toRungGroups(ladder.rungs).map((group) => {
    const [rung] = group.rungs;
    return {
      id: group.id,
      code: rung.code,
      pressurePa: rung.pressurePa,
      halfWidthPa: rung.halfWidthPa,
      label: toGroupLabel(group, t),
      isWeakest: rung.isWeakest,
      status: toRungStatus(rung, ladder.checks),
    };
  });
  return {
    id: circuit.id,
    title: circuit.title,
    subtitle: circuit.subtitle,
    status: ladder.status,
    rungs,
    window: { lowPa: ladder.window.lowPa, highPa: ladder.window.highPa },
  };
}
