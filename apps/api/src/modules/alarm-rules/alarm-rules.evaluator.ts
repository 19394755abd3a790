import { Injectable } from '@nestjs/common';
import { groupBy } from '../../platform/group-by.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { listAlarms, type Range } from '../alarm-counts/index.js';
import { IssueDoor, type DoorState, type IssueOpening } from '../issues/index.js';
import { gatherEvidence, reachOf, type Looked } from './alarm-evidence.js';
import { listRules, readSourceNames, takeRole, type EffectiveRule } from './effective-rules.repository.js';

type Changed = Range & { readonly alarms: string };

/** Looks at what changed with each circuit's rule, in the transaction of the counts. */
@Injectable()
export class AlarmRulesEvaluator {
  constructor(private readonly door: IssueDoor) {}

  /**
   * For what a person decided about counts.
   * @param receivedMs when they came in: what was history then opens nothing now
   */
  async evaluate(
    sql: SqlTransaction,
    organisationId: string,
    changed: readonly Changed[],
    receivedMs: number,
  ): Promise<void> {
    const rules = await this.listRules(sql, organisationId, changed);
    if (rules.length > 0) await this.look(sql, organisationId, changed, { rules, receivedMs });
  }

  /** The rules that may have something to say about what changed; none where no alarm came or went. */
  async listRules(
    sql: SqlTransaction,
    organisationId: string,
    changed: readonly Changed[],
  ): Promise<readonly EffectiveRule[]> {
    // What is replaced is among what changed: without an alarm in any of it no window has become fuller or emptier.
    if (changed.every((one) => one.alarms === '{}')) return [];
    return listRules(sql, organisationId, [...new Set(changed.map(({ circuitId }) => circuitId))]);
  }

  /** In the transaction of a gateway, whose role may not write issues itself. */
  async apply(
    sql: SqlTransaction,
    organisationId: string,
    changed: readonly Changed[],
    rules: readonly EffectiveRule[],
  ): Promise<void> {
    await takeRole(sql, 'alarm-rule');
    await this.look(sql, organisationId, changed, { rules, receivedMs: Date.now() });
    await takeRole(sql, 'source');
  }

  private async look(
    sql: SqlTransaction,
    organisationId: string,
    changed: readonly Changed[],
    { rules, receivedMs }: { rules: readonly EffectiveRule[]; receivedMs: number },
  ): Promise<void> {
    const byCircuit = groupBy(changed, (one) => one.circuitId);
    const reaches = rules.map((rule) => reachOf(rule, byCircuit.get(rule.circuitId) ?? []));
    const counts = groupBy(
      await listAlarms(
        sql,
        organisationId,
        reaches.map(({ seen }) => seen),
      ),
      (one) => one.circuitId,
    );
    const looked = new Map<string, Looked>();
    for (const [n, reach] of reaches.entries()) {
      const rule = rules[n];
      if (rule === undefined) continue;
      looked.set(rule.circuitId, { rule, reach, receivedMs, counts: counts.get(rule.circuitId) ?? [] });
    }
    // Without a single alarm anywhere near, nothing can open; an open issue may still lose evidence to a revision.
    const places = rules.map(({ circuitId }) => ({ circuitId }));
    await this.door.open(sql, organisationId, { origin: 'alarm-rule', places }, (states) =>
      this.decide(sql, organisationId, looked, states),
    );
  }

  private async decide(
    sql: SqlTransaction,
    organisationId: string,
    looked: ReadonlyMap<string, Looked>,
    states: readonly DoorState[],
  ): Promise<IssueOpening[]> {
    const gathered = states.flatMap((state) => {
      const seen = looked.get(state.key);
      const open = state.openId === null ? null : state;
      const found = seen === undefined ? null : gatherEvidence(seen, open, state.closedAtMs);
      return seen === undefined || found === null ? [] : [{ state, rule: seen.rule, found }];
    });
    const sourceIds = gathered.flatMap(({ state, found }) => (state.openId === null ? [found.sourceId] : []));
    const names =
      sourceIds.length === 0
        ? new Map<string, string>()
        : await readSourceNames(sql, organisationId, [...new Set(sourceIds)]);
    return gathered.map(({ state: { key, circuitName }, rule, found }) => ({
      key,
      title: {
        code: 'alarms-in-window',
        parameters: {
          most: found.most,
          alarmKind: rule.alarmKind,
          windowS: rule.windowS,
          circuitName: circuitName ?? '',
        },
      },
      evidence: { ...found.evidence },
      because: { rule: found.evidence.rule },
      openedBy: found.sourceId,
      openedByName: names.get(found.sourceId) ?? '',
    }));
  }
}
