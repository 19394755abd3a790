'use client';

import { routes, type Circuit, type SetupRecord, type Standing, type TargetSetting } from '@repo/contracts';
import { useApi } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { MiniPressureLadder, toSharedAxis } from '@/lib/pressure-ladder/mini-pressure-ladder-view';
import { Entered } from '@/lib/quantity/number';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { isCustomerRole, useRole } from '@/lib/session/session';
import { Loaded } from '@/lib/states';
import { Button, ButtonLink } from '@/ui/button';
import { Caution } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { PlainVerdict } from './plain-verdict';
import { FittedComponents, Instruments } from './setup-lists';
import { PaperEnd, SignKey } from './setup-sheet';
import styles from './machine.module.css';

const SETTINGS = ['setting', 'setPoint', 'resetPoint', 'airPressure', 'pumpRestart'] as const;

interface SetupCircuit {
  circuit: Circuit;
  fixtureName: string | null;
  target: TargetSetting | null;
  asLeft: SetupRecord | null;
  standing: Standing | null;
}

function Values({ target, asLeft }: { target: TargetSetting | null; asLeft: SetupRecord | null }) {
  const t = useTranslate();
  const show = (record: TargetSetting | SetupRecord | null, field: (typeof SETTINGS)[number]) => {
    const quantity = record?.[field] ?? null;
    if (quantity === null || record === null) return <span>{t('value.notKnown')}</span>;
    const tolerance =
      field === 'setting' ? record.settingTolerance : field === 'pumpRestart' ? record.pumpRestartTolerance : null;
    return <Entered quantity={quantity} tolerance={tolerance} />;
  };
  return (
    <table className={styles['values']}>
      <thead>
        <tr>
          <th scope="col">{t('settings.value')}</th>
          <th scope="col">{t('settings.target')}</th>
          <th scope="col">{t('settings.asLeft')}</th>
        </tr>
      </thead>
      <tbody>
        {SETTINGS.map((field) => (
          <tr key={field}>
            <th scope="row">{t(`settings.${field}`)}</th>
            <td>{show(target, field)}</td>
            <td>{show(asLeft, field)}</td>
          </tr>
        ))}
        {(['clampTime', 'contactTime', 'unclampTime', 'timeTolerance'] as const).map((field) => (
          <tr key={field}>
            <th scope="row">{t(`settings.${field}`)}</th>
            <td>–</td>
            <td>
              {asLeft?.[field] == null ? t('settings.notMeasured') : <Entered quantity={asLeft[field]} kind="time" />}
            </td>
          </tr>
        ))}
        <tr>
          <th scope="row">{t('settings.decay')}</th>
          <td>–</td>
          <td>
            {asLeft?.decay == null || asLeft.decayDuration === null ? (
              t('settings.notMeasured')
            ) : (
              <>
                <Entered quantity={asLeft.decay} /> {t('settings.in')}{' '}
                <Entered quantity={asLeft.decayDuration} kind="time" />
              </>
            )}
          </td>
        </tr>
        <tr>
          <th scope="row">{t('settings.gauge')}</th>
          <td>–</td>
          <td>
            {asLeft?.gaugeSpan == null ? (
              t('settings.notStated')
            ) : (
              <>
                <Entered quantity={asLeft.gaugeSpan} /> {t('settings.gaugeClassOf', { class: asLeft.gaugeClass })}{' '}
                {asLeft.gaugeIdentity}
              </>
            )}
          </td>
        </tr>
      </tbody>
    </table>
  );
}

function CircuitSetup({ entry, timeZone }: { entry: SetupCircuit; timeZone: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { circuit, asLeft, target, standing, fixtureName } = entry;
  const note =
    asLeft === null
      ? t('settings.noAsLeft')
      : t('portal.leftBy', {
          date: dates.atDay(asLeft.measuredAt, timeZone),
          name: asLeft.measuredByName,
          revision: asLeft.revision,
        });
  return (
    <Panel title={`${circuit.name}${fixtureName === null ? '' : ` · ${fixtureName}`}`} note={note}>
      <PlainVerdict standing={standing} />
      {standing === null ? null : (
        <MiniPressureLadder
          marks={standing.marks}
          status={standing.status}
          {...toSharedAxis([standing.marks])}
          widthPx={300}
        />
      )}
      <Values target={target} asLeft={asLeft} />
      {asLeft !== null && asLeft.fixtureName !== null && asLeft.fixtureName !== fixtureName ? (
        <p>{t('portal.otherFixture', { then: asLeft.fixtureName, now: fixtureName ?? t('machine.noFixture') })}</p>
      ) : null}
    </Panel>
  );
}

/** The setup record of a machine: to read, and to hang up at the machine. */
export function SetupPage({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const role = useRole();
  const query = useApi(routes.machines.setup, { params: { id: machineId } });
  return (
    <Loaded isPage query={query}>
      {({ data: { machine, circuits, components, silentSince } }) => (
        <>
          <PageHead
            crumbsLabel={t('nav.crumbs')}
            crumbs={
              isCustomerRole(role)
                ? [{ name: t('nav.portal'), href: '/portal' }]
                : [{ name: machine.name, href: `/machines/${machine.id}` }]
            }
            title={t('portal.setupTitle', { name: machine.name })}
            under={[
              machine.customerName,
              machine.siteName,
              machine.place,
              machine.serial === '' ? '' : t('portal.serialOf', { serial: machine.serial }),
            ]
              .filter((part) => part !== '')
              .join(' · ')}
            actions={
              <>
                <UnitSwitch />
                <Button onClick={() => window.print()}>{t('portal.print')}</Button>
                <ButtonLink look="strong" href={`/issues/new?machine=${machine.id}`}>
                  {t('portal.report')}
                </ButtonLink>
              </>
            }
          />
          {silentSince === null ? null : (
            <p className={styles['past']} role="status">
              {t('machine.silent', { time: dates.atTime(silentSince, machine.timeZone) })}
            </p>
          )}
          <div className={styles['setup']}>
            {circuits.map((entry) => (
              <CircuitSetup key={entry.circuit.id} entry={entry} timeZone={machine.timeZone} />
            ))}
            {circuits.some(({ standing }) => standing !== null) ? <SignKey /> : null}
            <Instruments readings={circuits.map(({ circuit, asLeft }) => ({ circuitName: circuit.name, asLeft }))} />
            <FittedComponents
              components={components}
              circuitNames={new Map(circuits.map(({ circuit }) => [circuit.id, circuit.name]))}
            />
            <Caution
              title={t('caution.title')}
              lines={[
                t('caution.lockOut'),
                t('caution.bothLines'),
                t('caution.skin'),
                t('caution.pinch'),
                t('caution.judgement'),
              ]}
            />
            <PaperEnd />
          </div>
        </>
      )}
    </Loaded>
  );
}
