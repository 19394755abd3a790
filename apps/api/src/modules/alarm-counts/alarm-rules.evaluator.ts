import { Injectable } from '@nestjs/common';
import type { AlarmEvidence } from '@repo/contracts';
import { groupBy } from '../../platform/group-by.js';
import {
  listAlarms,
  listCircuitIssues,
  listRules,
  openIssue,
  readSourceName,
  takeRole,
  updateEvidence,
  type CircuitIssues,
  type CountedInterval,
  type EffectiveRule,
} from './alarm-issues.repository.js';
import { applyRule } from './alarm-rule.js';
import { iso, type CountsSql } from './counts-sql.js';
import type { Range } from './merge-reports.js';
import type { GatewayRules } from './take-in.js';

/** Of an issue's evidence so many intervals are kept, the latest. */
const MOST_EVIDENCE = 500;

type Changed = Range & { readonly alarms: string };

const countOf = (alarms: Record<string, number>, kind: string | null): number =>
  kind === null ? Object.values(alarms).reduce((sum, one) => sum + one, 0) : (alarms[kind] ?? 0);

/** Where a change of these intervals can make a window fuller. */
function reachOf(rule: EffectiveRule, changed: readonly Range[]): Range {
  const windowMs = rule.windowS * 1000;
  return {
    circuitId: rule.circuitId,
    fromMs: Math.min(...changed.map(({ fromMs }) => fromMs)) - windowMs,
    toMs: Math.max(...changed.map(({ toMs }) => toMs)) + windowMs,
  };
}

function windowText(seconds: number): string {
  if (seconds % 86_400 === 0) return `${seconds / 86_400} d`;
  return seconds % 3600 === 0 ? `${seconds / 3600} h` : `${Math.round(seconds / 60)} min`;
}

/** Looks at what changed with each circuit's rule, in the transaction of the counts. */
@Injectable()
export class AlarmRulesEvaluator implements GatewayRules {
  /** For what a person decided about counts. */
  async evaluate(sql: CountsSql, organisationId: string, changed: readonly Changed[]): Promise<void> {
    const rules = await this.listRules(sql, organisationId, changed);
    if (rules.length > 0) await this.look(sql, organisationId, changed, rules);
  }

  /** The rules that may have something to say about what changed. */
  async listRules(
    sql: CountsSql,
    organisationId: string,
    changed: readonly Changed[],
  ): Promise<readonly EffectiveRule[]> {
    // What is replaced is among what changed: without an alarm in any of it no window has become fuller or emptier.
    if (changed.every((one) => one.alarms === '{}')) return [];
    return listRules(sql, organisationId, [...new Set(changed.map(({ circuitId }) => circuitId))]);
  }

  /** In the transaction of a gateway, whose role may not write issues itself. */
  async apply(
    sql: CountsSql,
    organisationId: string,
    changed: readonly Changed[],
    rules: readonly EffectiveRule[],
  ): Promise<void> {
    await takeRole(sql, 'alarm-rule');
    await this.look(sql, organisationId, changed, rules);
    await takeRole(sql, 'source');
  }

  private async look(
    sql: CountsSql,
    organisationId: string,
    changed: readonly Changed[],
    rules: readonly EffectiveRule[],
  ): Promise<void> {
    const byCircuit = groupBy(changed, (one) => one.circuitId);
    const reaches = new Map(rules.map((rule) => [rule.circuitId, reachOf(rule, byCircuit.get(rule.circuitId) ?? [])]));
    const alarms = await listAlarms(sql, organisationId, [...reaches.values()]);
    const counts = groupBy(alarms, (one) => one.circuitId);
    // Without a single alarm anywhere near, nothing can open; an open issue may still lose evidence to a revision.
    const circuits = await listCircuitIssues(
      sql,
      organisationId,
      rules.map(({ circuitId }) => circuitId),
    );
    const issues = new Map(circuits.map((circuit) => [circuit.circuitId, circuit]));
    for (const rule of rules) {
      const circuit = issues.get(rule.circuitId);
      const reach = reaches.get(rule.circuitId);
      if (circuit === undefined || reach === undefined) continue;
      await this.applyOne(sql, organisationId, { rule, circuit, reach, counts: counts.get(rule.circuitId) ?? [] });
    }
  }

  private async applyOne(
    sql: CountsSql,
    organisationId: string,
    of: { rule: EffectiveRule; circuit: CircuitIssues; reach: Range; counts: readonly CountedInterval[] },
  ): Promise<void> {
    const { rule, circuit, reach } = of;
    const counted = of.counts.map((one) => ({ ...one, count: countOf(one.alarms, rule.alarmKind) }));
    const found = applyRule({ threshold: rule.threshold, windowMs: rule.windowS * 1000 }, counted, circuit.closedAtMs);
    if (circuit.openId === null && !found.isTripped) return;
    const fresh = found.evidence.map((one) => ({
      from: iso(one.fromMs),
      to: iso(one.toMs),
      count: one.count,
      sourceId: one.sourceId,
    }));
    // Within reach the evidence is what stands now; beyond it, what was found before.
    const kept = (circuit.evidence?.intervals ?? []).filter(
      (one) => Date.parse(one.to) <= reach.fromMs || Date.parse(one.from) >= reach.toMs,
    );
    const intervals = [...kept, ...fresh].sort((a, b) => (a.from < b.from ? -1 : 1)).slice(-MOST_EVIDENCE);
    const evidence: AlarmEvidence = {
      rule: { alarmKind: rule.alarmKind, threshold: rule.threshold, windowS: rule.windowS },
      total: intervals.reduce((sum, one) => sum + one.count, 0),
      most: Math.max(found.most, circuit.evidence?.most ?? 0),
      intervals,
    };
    if (circuit.openId !== null) {
      await updateEvidence(sql, organisationId, circuit.openId, {
        ...evidence,
        rule: circuit.evidence?.rule ?? evidence.rule,
      });
      return;
    }
    const sourceId = fresh.at(-1)?.sourceId ?? '';
    const what = rule.alarmKind === null ? 'alarms' : `alarms "${rule.alarmKind}"`;
    await openIssue(sql, organisationId, {
      circuit,
      title: `${found.most} ${what} within ${windowText(rule.windowS)}: ${circuit.circuitName}`.slice(0, 160),
      evidence,
      sourceId,
      sourceName: await readSourceName(sql, organisationId, sourceId),
    });
  }
}
