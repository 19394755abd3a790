'use client';

import { routes, type AlarmRule } from '@repo/contracts';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { toAlarms, toWindow } from '../rule-words';
import { ChangeRuleForm, NewRuleForm } from './rule-form';
import styles from './counts.module.css';

function toSentence(rule: AlarmRule, t: Translate): string {
  if (!rule.isOn) return t('rule.off');
  return t('rule.says', {
    threshold: rule.threshold,
    kind: toAlarms(rule.alarmKind, t),
    window: toWindow(rule.windowS, t),
  });
}

function RuleLine({ rule }: { rule: AlarmRule }) {
  const t = useTranslate();
  const may = useMay();
  const remove = useApiChange(routes.alarmRules.remove);
  return (
    <li>
      <div>
        {toSentence(rule, t)}
        <span>
          {rule.circuitName === null ? t('rule.ofOrganisation') : t('rule.ofCircuit', { circuit: rule.circuitName })}
        </span>
      </div>
      {may(routes.alarmRules.update) ? (
        <div className={styles['actions']}>
          <FormDialog action={t('rule.change')} title={t('rule.change')}>
            {(close) => <ChangeRuleForm rule={rule} onDone={close} />}
          </FormDialog>
          {rule.circuitId === null ? null : (
            <Button disabled={remove.isPending} onClick={() => remove.mutate({ params: { id: rule.id } })}>
              {t('rule.remove')}
            </Button>
          )}
        </div>
      ) : null}
    </li>
  );
}

/** What opens an issue by itself: the organisation's rule, and those of this machine's circuits. */
export function AlarmRules({
  machineId,
  circuits,
}: {
  machineId: string;
  circuits: readonly { circuitId: string; circuitName: string }[];
}) {
  const t = useTranslate();
  const may = useMay();
  const { query, items } = useApiPages(routes.alarmRules.list, { query: { machineId, limit: 100 } });
  if (!query.isSuccess) return null;
  const without = circuits.filter(({ circuitId }) => items.every((rule) => rule.circuitId !== circuitId));
  const hasDefault = items.some((rule) => rule.circuitId === null);
  return (
    <div className={styles['rules']}>
      <h3>{t('rule.title')}</h3>
      {items.length === 0 ? <p className={styles['quiet']}>{t('rule.none')}</p> : null}
      <ul>
        {items.map((rule) => (
          <RuleLine key={rule.id} rule={rule} />
        ))}
      </ul>
      {may(routes.alarmRules.create) ? (
        <div className={styles['actions']}>
          {hasDefault ? null : (
            <FormDialog action={t('rule.setAll')} title={t('rule.setAll')}>
              {(close) => <NewRuleForm circuitId={null} onDone={close} />}
            </FormDialog>
          )}
          {without.map(({ circuitId, circuitName }) => (
            <FormDialog
              key={circuitId}
              action={t('rule.set', { circuit: circuitName })}
              title={t('rule.set', { circuit: circuitName })}
            >
              {(close) => <NewRuleForm circuitId={circuitId} onDone={close} />}
            </FormDialog>
          ))}
        </div>
      ) : null}
      <p className={styles['quiet']}>{t('rule.note')}</p>
    </div>
  );
}
