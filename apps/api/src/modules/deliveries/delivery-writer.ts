import { Injectable } from '@nestjs/common';
import { groupBy } from '../../platform/group-by.js';
import { AlarmRulesEvaluator } from '../alarm-rules/index.js';
import { IntakeRepository, sqlStateOf } from './intake.repository.js';
import { readMachines, RememberedMachines } from './known-machines.js';
import type { Delivery } from './place-reports.js';
import { listArchived } from './receipts.repository.js';
import { placeAtOnce, takeInAtOnce, type AtOnce } from './take-in-at-once.js';
import { takeInOfLive, type OfOrganisation, type Outcome } from './take-in.js';

const TRIES = 3;
const HEARD_EVERY_MS = 1_000;
const MOST_HEARD = 10_000;
/** After a group that could not be taken in at once, others are not tried that way for so long. */
const STEPWISE_MS = 250;
/** Two writers met crosswise, or a connection was told to start over: the same again works. */
const MET = new Set(['40001', '40P01']);

type Outcomes = ReadonlyMap<Delivery, Outcome>;

/** Writes groups of deliveries: in one turn where what was known a moment ago still holds, otherwise step by step. */
@Injectable()
export class DeliveryWriter {
  private readonly heardAtMs = new Map<string, number>();
  private readonly remembered = new RememberedMachines();
  private atOnceFromMs = 0;

  constructor(
    private readonly repository: IntakeRepository,
    private readonly rules: AlarmRulesEvaluator,
  ) {}

  /** Commits deliveries of any organisations in one transaction; on return they are on disk. */
  async commit(deliveries: readonly Delivery[]): Promise<Outcome[]> {
    const outcomes = await this.tryAtOnce(deliveries);
    if (outcomes !== null) return outcomes;
    for (let left = TRIES; ; left -= 1) {
      try {
        const groups = this.byOrganisation(deliveries);
        const taken = await this.repository.inTransaction(groups, async (sql, group) => {
          const { organisationId } = group;
          const [machines, archived] = await Promise.all([
            readMachines(sql, organisationId, group.deliveries),
            listArchived(sql, organisationId, group.deliveries),
          ]);
          this.remembered.keep(machines);
          return takeInOfLive(sql, group, { machines, archived, rules: this.rules });
        });
        const all = taken === null ? null : this.noteHeard(groups, taken);
        return deliveries.map((delivery) => all?.get(delivery) as Outcome);
      } catch (error) {
        if (left === 1 || !MET.has(sqlStateOf(error))) throw error;
      }
    }
  }

  /** What goes by what is remembered goes in one turn; null when it did not, and nothing was written. */
  private async tryAtOnce(deliveries: readonly Delivery[]): Promise<Outcome[] | null> {
    if (performance.now() < this.atOnceFromMs) return null;
    const groups: AtOnce[] = [];
    for (const ofOrganisation of this.byOrganisation(deliveries)) {
      const remembered = this.remembered.find(ofOrganisation.deliveries);
      const group = remembered === null ? null : placeAtOnce(ofOrganisation, remembered);
      if (group === null) return null;
      groups.push(group);
    }
    try {
      const taken = await this.repository.inTransaction(groups, (sql, group) => takeInAtOnce(sql, group, this.rules));
      if (taken !== null) {
        const outcomes = this.noteHeard(groups, taken);
        return deliveries.map((delivery) => outcomes.get(delivery) as Outcome);
      }
    } catch (error) {
      // What the database refuses, it may take step by step; a connection that broke is somebody else's to tell.
      if (sqlStateOf(error).length !== 5) throw error;
    }
    this.atOnceFromMs = performance.now() + STEPWISE_MS;
    return null;
  }

  /** Always in the same order: two processes never wait for each other crosswise. */
  private byOrganisation(deliveries: readonly Delivery[]): OfOrganisation[] {
    return [...groupBy(deliveries, (delivery) => delivery.organisationId)]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([organisationId, own]) => ({
        organisationId,
        deliveries: own,
        unheard: own.filter(({ sourceId }) => this.isUnheard(sourceId)),
      }));
  }

  /** What became of each delivery, once it is on disk. */
  private noteHeard(groups: readonly OfOrganisation[], taken: readonly (readonly Outcome[])[]): Outcomes {
    this.markHeard(groups.flatMap(({ deliveries }) => deliveries));
    const outcomes = new Map<Delivery, Outcome>();
    for (const [index, { deliveries }] of groups.entries()) {
      for (const [at, delivery] of deliveries.entries()) outcomes.set(delivery, taken[index]?.[at] as Outcome);
    }
    return outcomes;
  }

  /** Whether to write when a source was heard: once a second is enough, and keeps others of its gateway from waiting for the row. */
  private isUnheard(sourceId: string): boolean {
    return performance.now() - (this.heardAtMs.get(sourceId) ?? -Infinity) >= HEARD_EVERY_MS;
  }

  private markHeard(deliveries: readonly Delivery[]): void {
    if (this.heardAtMs.size > MOST_HEARD) this.heardAtMs.clear();
    for (const { sourceId } of deliveries) {
      if (this.isUnheard(sourceId)) this.heardAtMs.set(sourceId, performance.now());
    }
  }
}
