'use client';

import { routes, type Interlock } from '@repo/contracts';
import { useApi } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { toMissingText } from '@/lib/pressure-ladder/sentences';
import { Loaded } from '@/lib/states';
import { Status } from '@/lib/status/status';
import { Caution, Notice } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import styles from './control.module.css';

type Proof = NonNullable<Interlock['proof']>;
type BrokenRule = Proof['stations'][number]['broken'][number];
type Step = BrokenRule['story'][number];

const useRule = () => {
  const t = useTranslate();
  return (rule: string) => t.find(`interlock.rule.${rule}`) ?? rule;
};

/** How things stand after a step, in a few words. */
function StepText({ step }: { step: Step }) {
  const t = useTranslate();
  const what = t.find(`interlock.event.${step.event}`) ?? step.event;
  const state = t.list([
    t(step.clamped ? 'interlock.clamped' : 'interlock.notClamped'),
    t(step.cutting ? 'interlock.cutting' : step.spindle ? 'interlock.turning' : 'interlock.spindleStopped'),
    ...(step.alarm ? [t('interlock.alarm')] : []),
  ]);
  return step.signal === undefined
    ? t('interlock.step', { what, state })
    : t('interlock.stepWith', { what, signal: step.signal, state });
}

function Story({ brokenRule }: { brokenRule: BrokenRule }) {
  return (
    <ol className={styles['story']}>
      {brokenRule.story.map((step, index) => (
        <li key={index}>
          <StepText step={step} />
        </li>
      ))}
    </ol>
  );
}

/** Stories that the sound machine can go through: what is wrong now, first. */
function Broken({ proof }: { proof: Proof }) {
  const t = useTranslate();
  const ruleText = useRule();
  const broken = proof.stations.flatMap(({ name, broken: rules }) =>
    rules.filter(({ fault }) => fault === 'none').map((brokenRule) => ({ name, brokenRule })),
  );
  return (
    <>
      {proof.shared.map(({ signal, stations }) => (
        <Notice key={signal}>{t('interlock.sharedSignal', { signal, stations: t.list(stations) })}</Notice>
      ))}
      {broken.map(({ name, brokenRule }) => (
        <section key={`${name} ${brokenRule.rule}`} className={styles['broken']}>
          <h3>{t('interlock.brokenAt', { name, rule: ruleText(brokenRule.rule) })}</h3>
          <Story brokenRule={brokenRule} />
        </section>
      ))}
    </>
  );
}

/** What happens under a fault: told apart, since no wiring withstands every one. */
function Faults({ proof }: { proof: Proof }) {
  const t = useTranslate();
  const ruleText = useRule();
  const underFault = proof.stations.flatMap(({ name, broken }) =>
    broken.filter(({ fault }) => fault !== 'none').map((brokenRule) => ({ name, brokenRule })),
  );
  const [first] = proof.stations;
  // What breaks without a fault is told above.
  const isToldAbove = ({ rule }: BrokenRule): boolean =>
    first?.broken.some((other) => other.fault === 'none' && other.rule === rule) === true;
  const faultsOnly = underFault.filter(({ name, brokenRule }) => name === first?.name && !isToldAbove(brokenRule));
  if (faultsOnly.length === 0) return <p>{t('interlock.noFaultBreaks')}</p>;
  return (
    <>
      <p>{t('interlock.faultsText', { name: first?.name ?? '' })}</p>
      {faultsOnly.map(({ brokenRule }) => (
        <details key={`${brokenRule.fault} ${brokenRule.rule}`} className={styles['fault']}>
          <summary>
            {t('interlock.underFault', {
              fault: t.find(`interlock.fault.${brokenRule.fault}`) ?? brokenRule.fault,
              rule: ruleText(brokenRule.rule),
            })}
          </summary>
          <p>{t(brokenRule.needsSecondChannel ? 'interlock.secondChannel' : 'interlock.coverable')}</p>
          <Story brokenRule={brokenRule} />
        </details>
      ))}
    </>
  );
}

function Shown({ interlock }: { interlock: Interlock }) {
  const t = useTranslate();
  const { proof, missing } = interlock;
  const missingText = missing.length === 0 ? null : toMissingText({ missing }, t);
  if (proof === null) {
    return (
      <>
        <p>
          <Status status="unproven" /> {t('interlock.unproven', { missing: missingText ?? '' })}
        </p>
        <Caution title={t('caution.title')} lines={[t('interlock.notSafety'), t('caution.judgement')]} />
      </>
    );
  }
  return (
    <>
      <p>
        <Status status={proof.sound ? 'holds' : 'fails'} />{' '}
        {proof.sound ? t('interlock.sound', { states: proof.states }) : t('interlock.unsound')}
      </p>
      {missingText === null ? null : <p>{t('interlock.partly', { missing: missingText })}</p>}
      <Broken proof={proof} />
      <Table
        caption={t('interlock.stations')}
        rows={proof.stations}
        rowKey={({ name }) => name}
        columns={[
          { key: 'name', title: t('circuit.station'), isName: true, cell: ({ name }) => name },
          { key: 'states', title: t('interlock.states'), isNumber: true, cell: ({ states }) => states },
          {
            key: 'sound',
            title: t('interlock.withoutFault'),
            cell: ({ broken }) => <Status status={broken.some(({ fault }) => fault === 'none') ? 'fails' : 'holds'} />,
          },
        ]}
      />
      <h3>{t('interlock.faults')}</h3>
      <Faults proof={proof} />
      <Caution title={t('caution.title')} lines={[t('interlock.notSafety'), t('caution.judgement')]} />
    </>
  );
}

/** Does the control know when a clamp is lost? */
export function InterlockPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const query = useApi(routes.machines.interlock, { params: { id: machineId } });
  return (
    <Panel title={t('interlock.title')}>
      <Loaded query={query}>{({ data }) => <Shown interlock={data} />}</Loaded>
    </Panel>
  );
}
