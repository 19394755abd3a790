'use client';

import { routes, type CircuitOverview, type SetupRecord, type TargetSetting } from '@repo/contracts';
import { useState } from 'react';
import { late } from '@/lib/late';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMachineOverview } from '@/lib/machine-overview';
import { Entered } from '@/lib/quantity/number';
import { useRole } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { Panel } from '@/ui/panel';
import { TargetForm } from './target-form';
import { SETTING_FIELDS, type SettingField } from '../setting-names';
import styles from './settings.module.css';

const AsLeftForm = late(() => import('./as-left-form').then((file) => file.AsLeftForm));

type Record_ = TargetSetting | SetupRecord;
const SHOWN: readonly SettingField[] = SETTING_FIELDS.filter((field) => !field.endsWith('Tolerance'));

function Value({ record, field }: { record: Record_ | null; field: SettingField }) {
  const t = useTranslate();
  const quantity = record?.[field] ?? null;
  if (record === null || quantity === null) return <span className={styles['small']}>{t('value.notKnown')}</span>;
  const tolerance =
    field === 'setting' ? record.settingTolerance : field === 'pumpRestart' ? record.pumpRestartTolerance : null;
  return <Entered quantity={quantity} tolerance={tolerance} />;
}

function ValuesTable({
  target,
  asLeft,
  timeZone,
}: {
  target: TargetSetting | null;
  asLeft: SetupRecord | null;
  timeZone: string;
}) {
  const t = useTranslate();
  const dates = useDates();
  return (
    <table className={styles['table']}>
      <thead>
        <tr>
          <th scope="col">{t('settings.value')}</th>
          <th scope="col">
            {t('settings.target')}
            <br />
            {target === null
              ? t('settings.noTarget')
              : t('settings.releasedBy', {
                  revision: target.revision,
                  date: dates.atDay(target.releasedAt, timeZone),
                  name: target.releasedByName,
                })}
          </th>
          <th scope="col">
            {t('settings.asLeft')}
            <br />
            {asLeft === null
              ? t('settings.noAsLeft')
              : t('settings.measuredBy', {
                  revision: asLeft.revision,
                  date: dates.atDay(asLeft.measuredAt, timeZone),
                  name: asLeft.measuredByName,
                })}
          </th>
        </tr>
      </thead>
      <tbody>
        {SHOWN.map((field) => (
          <tr key={field}>
            <th scope="row">{t(`settings.${field}`)}</th>
            <td>
              <Value record={target} field={field} />
            </td>
            <td>
              <Value record={asLeft} field={field} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Revisions({ circuitId, timeZone }: { circuitId: string; timeZone: string }) {
  const t = useTranslate();
  const dates = useDates();
  const [isOpen, setOpen] = useState(false);
  const call = { query: { circuitId, limit: 50 } };
  const targets = useApiPages(routes.targetSettings.list, call, { isEnabled: isOpen });
  const records = useApiPages(routes.setupRecords.list, call, { isEnabled: isOpen });
  const entries = [
    ...targets.items.map((record) => ({
      id: record.id,
      at: record.releasedAt,
      title: t('settings.targetRevision', { revision: record.revision }),
      by: record.releasedByName,
      note: '',
      record,
    })),
    ...records.items.map((record) => ({
      id: record.id,
      at: record.measuredAt,
      title: t('settings.asLeftRevision', { revision: record.revision }),
      by: record.measuredByName,
      note: [record.reportName, record.fixtureName ?? ''].filter((part) => part !== '').join(', '),
      record,
    })),
  ].sort((a, b) => b.at.localeCompare(a.at));
  return (
    <details className={styles['history']} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t('settings.revisions')}</summary>
      {targets.query.isFetching || records.query.isFetching ? <p>{t('state.loading')}</p> : null}
      <ol>
        {entries.map(({ id, at, title, by, note, record }) => (
          <li key={id}>
            <span>
              <strong>{title}</strong> · {dates.atDay(at, timeZone)} · {by}
            </span>
            <span>
              {t('settings.setting')} <Value record={record} field="setting" />, {t('settings.setPoint')}{' '}
              <Value record={record} field="setPoint" />, {t('settings.resetPoint')}{' '}
              <Value record={record} field="resetPoint" />
            </span>
            <span className={styles['small']}>
              {record.reason}
              {note === '' ? '' : ` (${note})`}
            </span>
          </li>
        ))}
      </ol>
    </details>
  );
}

function Forms({ overview, timeZone }: { overview: CircuitOverview; timeZone: string }) {
  const t = useTranslate();
  const role = useRole();
  const [open, setOpen] = useState<'target' | 'as-left' | 'correction' | null>(null);
  const close = (): void => setOpen(null);
  return (
    <div className={styles['actions']}>
      {role === 'engineer' ? (
        <Button look="strong" onClick={() => setOpen('target')}>
          {t('settings.releaseTarget')}
        </Button>
      ) : null}
      {role === 'engineer' || role === 'installer' || role === 'lead' ? (
        <>
          <Button onClick={() => setOpen('as-left')}>{t('settings.enterAsLeft')}</Button>
          {overview.asLeft === null ? null : (
            <Button onClick={() => setOpen('correction')}>{t('settings.correctAsLeft')}</Button>
          )}
        </>
      ) : null}
      <Dialog
        isWide
        isOpen={open === 'target'}
        onClose={close}
        closeText={t('action.close')}
        title={t('settings.releaseFor', { name: overview.circuit.name })}
      >
        <TargetForm overview={overview} onDone={close} />
      </Dialog>
      <Dialog
        isWide
        isOpen={open === 'as-left'}
        onClose={close}
        closeText={t('action.close')}
        title={t('settings.asLeftFor', { name: overview.circuit.name })}
      >
        <AsLeftForm overview={overview} timeZone={timeZone} onDone={close} />
      </Dialog>
      <Dialog
        isWide
        isOpen={open === 'correction'}
        onClose={close}
        closeText={t('action.close')}
        title={t('settings.correctFor', { name: overview.circuit.name })}
      >
        <AsLeftForm
          key={overview.asLeft?.id}
          overview={overview}
          corrects={overview.asLeft}
          timeZone={timeZone}
          onDone={close}
        />
      </Dialog>
    </div>
  );
}

/** Target and as-left settings of the circuit that is looked at: apart, with their revisions. */
export function SettingsPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const { query, circuit, day } = useMachineOverview(machineId);
  const machine = query.data?.data.machine;
  if (circuit === null || machine === undefined) return null;
  return (
    <Panel title={t('settings.title', { name: circuit.circuit.name })} id="settings">
      <ValuesTable target={circuit.target} asLeft={circuit.asLeft} timeZone={machine.timeZone} />
      {day === null ? (
        <Forms overview={circuit} timeZone={machine.timeZone} />
      ) : (
        <p className={styles['small']}>{t('settings.pastOnly')}</p>
      )}
      <Revisions circuitId={circuit.circuit.id} timeZone={machine.timeZone} />
    </Panel>
  );
}
