'use client';

import { routes, type WayOutAnswer } from '@repo/contracts';
import { formatQuantity } from '@repo/quantity';
import type { ReactNode } from 'react';
import { useApi } from '@/lib/api/hooks';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { NumberWithUnit, Pressure } from '@/lib/quantity/number';
import { CheckNumber } from './check-number';
import { toCaseText, toMissingText } from './sentences';
import styles from './checks.module.css';

type Change = WayOutAnswer['changes'][number];

/** Whole bar are shown as whole; a finer step, such as of air, with its tenth. */
const isFine = (pressurePa: number): boolean => pressurePa % 1e5 > 1 && pressurePa % 1e5 < 1e5 - 1;

function Figure({ kind, value }: { kind: Change['kind']; value: number }): ReactNode {
  switch (kind) {
    case 'pressure':
      return isFine(value) ? <Pressure pressurePa={value} places={2} /> : <Pressure pressurePa={value} />;
    case 'area': {
      const { text, unitSymbol } = formatQuantity(value, 'mm2', { digits: 3 });
      return <NumberWithUnit number={text} unit={unitSymbol} />;
    }
    case 'length': {
      const { text, unitSymbol } = formatQuantity(value, 'mm', { digits: 3 });
      return <NumberWithUnit number={text} unit={unitSymbol} />;
    }
    case 'ratio':
    case 'none':
      return <NumberWithUnit number={String(Number(value.toPrecision(3)))} />;
    default:
      return <CheckNumber kind={kind} value={value} />;
  }
}

/** "between 152 bar and 160 bar", "at least 250 bar" */
function toRange({ kind, lowest, highest }: Pick<Change, 'kind' | 'lowest' | 'highest'>, t: Translate): ReactNode {
  const low = lowest === null ? null : <Figure kind={kind} value={lowest} />;
  const high = highest === null ? null : <Figure kind={kind} value={highest} />;
  if (low === null) return t.rich('wayOut.atMost', { highest: high });
  if (high === null) return t.rich('wayOut.atLeast', { lowest: low });
  if (lowest === highest) return t.rich('wayOut.exactly', { lowest: low });
  return t.rich('wayOut.between', { lowest: low, highest: high });
}

/** What the control does, and what it is to do, as its own form says it. */
function toReaction({ field, choice }: Change, t: Translate): string {
  const name = t.find(`control.behaviour.${field}`) ?? field;
  const answer = choice === 'true' ? t('value.yes') : choice === 'false' ? t('value.no') : null;
  return t('wayOut.reaction', { name, answer: answer ?? t.find(`control.does.${choice ?? ''}`) ?? choice ?? '' });
}

function ChangeSentence({ change }: { change: Change }): ReactNode {
  const t = useTranslate();
  return (
    <>
      {t.findRich(`wayOut.change.${change.code}`, {
        subject: change.ref?.name ?? t('wayOut.wholeCircuit'),
        range: toRange(change, t),
        apart: change.apart === null ? '' : <Figure kind="pressure" value={change.apart} />,
        reaction: toReaction(change, t),
        name: change.choice ?? '',
      })}
      {change.air === undefined ? null : (
        <> {t.rich('wayOut.withAir', { air: toRange({ kind: 'pressure', ...change.air }, t) })}</>
      )}
      {change.alsoReaches.length === 0
        ? null
        : ` ${t('wayOut.alsoReaches', { circuits: t.list(change.alsoReaches.map(({ name }) => name)) })}`}
    </>
  );
}

/** Why nothing that can be set or fitted makes every check hold. */
function Bounds({ bounds }: { bounds: WayOutAnswer['bounds'] }): ReactNode {
  const t = useTranslate();
  const [noWindow] = bounds.filter(({ reason }) => reason === 'no-window');
  if (noWindow?.demand != null && noWindow.capacity != null) {
    const { demand, capacity } = noWindow;
    return t.rich('wayOut.noWindow', {
      required: <Pressure pressurePa={demand} />,
      allowed: <Pressure pressurePa={capacity} />,
    });
  }
  const [unheld] = bounds.filter(({ reason }) => reason === 'no-pressure-holds');
  if (unheld !== undefined) {
    return t('wayOut.unheld', {
      operation: unheld.subject?.name ?? t('wayOut.wholeCircuit'),
      case: toCaseText(unheld.loadCase ?? '', t),
    });
  }
  return t('wayOut.none', { checks: t.list(bounds.map(({ code }) => t(`check.${code}.name`))) });
}

/** What mends a circuit, once it is found: it takes longer than the proof, and the page does not wait for it. */
export function WayOut({
  circuitId,
  basis = 'as-left',
  asOn,
  isMissingTold = false,
}: {
  circuitId: string;
  basis?: 'as-left' | 'target';
  asOn?: string | undefined;
  /** what is still to be recorded is said beside it already */
  isMissingTold?: boolean;
}): ReactNode {
  const t = useTranslate();
  const query = { basis, ...(asOn === undefined ? {} : { asOn }) };
  const { data, isError } = useApi(routes.circuits.wayOut, { params: { id: circuitId }, query });
  if (data === undefined) return isError ? t('wayOut.notFound') : t('wayOut.searching');
  const { wayOut } = data.data;
  return wayOut === null || (isMissingTold && wayOut.changes.length === 0) ? null : <Found wayOut={wayOut} />;
}

/** One thing after the other; or what nothing mends. */
function Found({ wayOut }: { wayOut: WayOutAnswer }): ReactNode {
  const t = useTranslate();
  const { outcome, changes, isFewest, records, bounds } = wayOut;
  if (outcome === 'none') return <Bounds bounds={bounds} />;
  const [only, ...more] = changes;
  return (
    <>
      {only === undefined ? null : more.length === 0 ? (
        <ChangeSentence change={only} />
      ) : (
        <>
          {t(outcome === 'whole' ? 'wayOut.all' : 'wayOut.mends')}
          <ol className={styles['steps']}>
            {changes.map((change) => (
              <li key={`${change.code} ${change.holder} ${change.id} ${change.field}`}>
                <ChangeSentence change={change} />
              </li>
            ))}
          </ol>
          {isFewest ? null : t('wayOut.notFewest')}
        </>
      )}{' '}
      {changes.some(({ holder }) => holder === 'component') ? t('wayOut.readAgain') : null}{' '}
      {records.length === 0 ? null : t('wayOut.records', { missing: toMissingText({ missing: records }, t) })}
    </>
  );
}
