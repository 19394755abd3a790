import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db } from '../../platform/db/index.js';

const include = { circuit: { select: { name: true } } } as const;

@Injectable()
export class ServiceEventsRepository {
  constructor(private readonly db: Db) {}

  private key(id: string) {
    return { organisationId_id: { organisationId: this.db.actor.organisationId, id } };
  }

  async findCustomer(machineId: string, circuitId: string | null): Promise<string | null> {
    const machine = await this.db.tx.machine.findUnique({ where: this.key(machineId), select: { customerId: true } });
    if (machine === null || circuitId === null) return machine?.customerId ?? null;
    const circuit = await this.db.tx.circuit.findUnique({ where: this.key(circuitId), select: { machineId: true } });
    return circuit?.machineId === machineId ? machine.customerId : null;
  }

  insert(customerId: string, body: InputOf<(typeof routes.serviceEvents)['create']>['body']) {
    return this.db.tx.serviceEvent.create({
      data: {
        ...body,
        organisationId: this.db.actor.organisationId,
        customerId,
        occurredAt: new Date(body.occurredAt),
        recordedBy: this.db.actor.membershipId,
      },
      include,
    });
  }
}
