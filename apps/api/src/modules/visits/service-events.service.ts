import { Injectable } from '@nestjs/common';
import { doneComponentSchema, serviceEventSchema, type InputOf, type routes, type ServiceEvent } from '@repo/contracts';
import { Audit } from '../../platform/audit/audit.js';
import { notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertNotAhead } from '../../platform/http/not-ahead.js';
import { DoneRowsRepository, type DoneRow } from './done-rows.repository.js';
import { ServiceEventsRepository } from './service-events.repository.js';

type Events = typeof routes.serviceEvents;

const toServiceEvent = (row: Awaited<ReturnType<ServiceEventsRepository['insert']>>): ServiceEvent => ({
  id: row.id,
  customerId: row.customerId,
  machineId: row.machineId,
  circuitId: row.circuitId,
  circuitName: row.circuit?.name ?? null,
  kind: serviceEventSchema.shape.kind.parse(row.kind),
  occurredAt: row.occurredAt.toISOString(),
  text: row.text,
  personName: row.personName,
  recordedAt: row.recordedAt.toISOString(),
  components: [],
});

const toDone = (row: DoneRow): ServiceEvent => ({
  id: row.id,
  customerId: row.customer_id,
  machineId: row.machine_id,
  circuitId: row.circuit_id,
  circuitName: row.circuit_name,
  kind: serviceEventSchema.shape.kind.parse(row.kind),
  occurredAt: row.occurred_at.toISOString(),
  text: row.text,
  personName: row.person_name,
  recordedAt: row.recorded_at.toISOString(),
  components: doneComponentSchema.array().parse(row.components),
});

@Injectable()
export class ServiceEventsService {
  constructor(
    private readonly repository: ServiceEventsRepository,
    private readonly done: DoneRowsRepository,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<Events['list']>['query']) {
    const after = this.cursors.read('service-events', query.cursor, 2);
    const rows = await this.done.list(query.machineId, after, query.limit);
    const page = this.cursors.page('service-events', rows, query.limit, (row) => [
      row.occurred_at.toISOString(),
      row.id,
    ]);
    return { items: page.rows.map(toDone), nextCursor: page.nextCursor };
  }

  async create(body: InputOf<Events['create']>['body']): Promise<ServiceEvent> {
    assertNotAhead('occurredAt', body.occurredAt);
    const customerId = await this.repository.findCustomer(body.machineId, body.circuitId);
    if (customerId === null) throw notFound();
    const row = await this.repository.insert(customerId, body);
    const changes = { kind: body.kind, occurredAt: body.occurredAt };
    await this.audit.record({ action: 'record', entity: 'service-event', entityId: body.id, customerId, changes });
    return toServiceEvent(row);
  }
}
