import type { LadderResult, Status } from '@repo/contracts';
import type { DrawnCircuit, DrawnRung, StatusShape } from '@repo/drawing';
import type { Translate } from '@/lib/i18n/i18n';

export type Rung = LadderResult['rungs'][number];
export type Check = LadderResult['checks'][number];

/** Rungs whose colour a check decides. */
const SPEAKS_OF: Readonly<Record<Check['code'], readonly Rung['code'][]>> = {
  'holds-workpiece': ['reset-point'],
  'no-nuisance-stop': ['set-point'],
  'setting-within-rating': ['setting'],
  'highest-within-rating': ['highest-possible'],
  'workpiece-limit': ['setting', 'workpiece-limit'],
};
const WORST_FIRST: readonly Status[] = ['fails', 'unproven', 'marginal', 'holds', 'not-applicable'];

export function getWorst(statuses: readonly Status[]): Status {
  return WORST_FIRST.find((status) => statuses.includes(status)) ?? 'not-applicable';
}

/** A rung's name on the page and in the address; stable while the same things are fitted. */
export function toRungId(rungs: readonly Rung[], rung: Rung): string {
  const alike = rungs.filter((other) => other.code === rung.code);
  if (alike.length === 1 && rung.code !== 'rating') return rung.code;
  const sameRef = alike.filter((other) => other.ref?.id === rung.ref?.id);
  const place = sameRef.length > 1 ? `-${sameRef.indexOf(rung)}` : '';
  return `${rung.code}-${rung.ref?.id ?? alike.indexOf(rung)}${place}`;
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
  const speaking = checks.filter((check) => SPEAKS_OF[check.code].includes(rung.code));
  const loud = speaking.map((check) => check.status).filter((status) => status === 'fails' || status === 'marginal');
  return loud.length === 0 ? null : getWorst(loud);
}

export function toDrawnCircuit(
  circuit: { id: string; title: string; subtitle: string | null; ladder: LadderResult },
  t: Translate,
): DrawnCircuit {
  const { ladder } = circuit;
  // "Does not limit" is an answer, not a figure that is missing.
  const drawable = ladder.rungs.filter((rung) => !(rung.pressurePa === null && rung.basis === 'not-limiting'));
  const rungs: DrawnRung[] = drawable.map((rung) => ({
    id: toRungId(ladder.rungs, rung),
    code: rung.code,
    pressurePa: rung.pressurePa,
    halfWidthPa: rung.halfWidthPa,
    label: toRungLabel(rung, t),
    isWeakest: rung.isWeakest,
    status: toRungStatus(rung, ladder.checks),
  }));
  return {
    id: circuit.id,
    title: circuit.title,
    subtitle: circuit.subtitle,
    status: ladder.status,
    rungs,
    window: { lowPa: ladder.window.lowPa, highPa: ladder.window.highPa },
  };
}
