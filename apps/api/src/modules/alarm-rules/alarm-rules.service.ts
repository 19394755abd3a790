import { Injectable } from '@nestjs/common';
import type { AlarmRule, InputOf, routes } from '@repo/contracts';
import { Audit } from '../../platform/audit/audit.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { AlarmRulesRepository, type RuleRow } from './alarm-rules.repository.js';

type Rules = typeof routes.alarmRules;

const toRule = (row: RuleRow): AlarmRule => ({
  id: row.id,
  circuitId: row.circuitId,
  circuitName: row.circuit?.name ?? null,
  machineName: row.circuit?.machine.name ?? null,
  alarmKind: row.alarmKind,
  threshold: row.threshold,
  windowS: row.windowS,
  isOn: row.isOn,
  version: row.version,
});

@Injectable()
export class AlarmRulesService {
  constructor(
    private readonly repository: AlarmRulesRepository,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<Rules['list']>['query']) {
    const after = this.cursors.read('alarm-rules', query.cursor, 1);
    const rows = await this.repository.list(query.machineId, after, query.limit);
    const page = this.cursors.page('alarm-rules', rows, query.limit, (row) => [row.id]);
    return { items: page.rows.map(toRule), nextCursor: page.nextCursor };
  }

  async create(body: InputOf<Rules['create']>['body']): Promise<AlarmRule> {
    let customerId: string | null = null;
    if (body.circuitId !== null) {
      const circuit = await this.repository.findCircuit(body.circuitId);
      if (circuit === null) throw notFound();
      ({ customerId } = circuit);
    }
    await this.repository.insert({ ...body, customerId });
    await this.record('create', body.id, customerId, { ...body });
    return toRule(await this.find(body.id));
  }

  async update(id: string, version: number, body: InputOf<Rules['update']>['body']): Promise<AlarmRule> {
    const before = await this.find(id);
    assertVersion(before.version, version);
    const { alarmKind, threshold, windowS, isOn } = body;
    const isWritten = await this.repository.update(id, version, {
      ...(alarmKind === undefined ? {} : { alarmKind }),
      ...(threshold === undefined ? {} : { threshold }),
      ...(windowS === undefined ? {} : { windowS }),
      ...(isOn === undefined ? {} : { isOn }),
    });
    if (!isWritten) throw new AppError('request.stale');
    const { customerId } = before;
    await this.audit.record({
      action: 'update',
      entity: 'alarm-rule',
      entityId: id,
      customerId,
      changes: { ...body },
      before: toRule(before),
    });
    return toRule(await this.find(id));
  }

  async remove(id: string): Promise<void> {
    const before = await this.find(id);
    await this.repository.remove(id);
    const { circuitId, threshold, windowS } = toRule(before);
    await this.record('delete', id, before.customerId, { circuitId, threshold, windowS });
  }

  private async find(id: string): Promise<RuleRow> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }

  private record(
    action: string,
    entityId: string,
    customerId: string | null,
    changes: Record<string, unknown>,
  ): Promise<void> {
    return this.audit.record({ action, entity: 'alarm-rule', entityId, customerId, changes });
  }
}
