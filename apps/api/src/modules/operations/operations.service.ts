import { Injectable } from '@nestjs/common';
import type { InputOf, Operation, routes } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { assertNotAhead } from '../../platform/http/not-ahead.js';
import { isoOrNull, quantityFrom } from '../../platform/http/quantity-out.js';
import { ConsequencesService } from '../sizing/index.js';
import { OperationsRepository, type OperationRow } from './operations.repository.js';

type Operations = typeof routes.operations;

const toOperation = (row: OperationRow): Operation => ({
  id: row.id,
  customerId: row.customerId,
  fixtureId: row.fixtureId,
  number: row.number,
  name: row.name,
  tool: row.tool,
  material: row.material,
  requiredPressure: quantityFrom(row.requiredPressureEntered),
  requiredBasis: row.requiredBasis as Operation['requiredBasis'],
  requiredSource: row.requiredSource,
  workpieceLimit: quantityFrom(row.workpieceLimitEntered),
  workpieceNotLimiting: row.workpieceNotLimiting,
  notLimitingReason: row.notLimitingReason,
  notLimitingBy: row.notLimitingBy,
  validFrom: row.validFrom.toISOString(),
  validTo: isoOrNull(row.validTo),
  recordedAt: row.recordedAt.toISOString(),
  version: row.version,
});

@Injectable()
export class OperationsService {
  constructor(
    private readonly repository: OperationsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Operations['list']>['query']) {
    const after = this.cursors.read('operations', query.cursor, 1);
    const filter = { fixtureId: query.fixtureId, isCurrent: query.current === 'true' };
    const rows = await this.repository.list(filter, after, query.limit);
    const page = this.cursors.page('operations', rows, query.limit, (row) => [row.id]);
    return { items: page.rows.map(toOperation), nextCursor: page.nextCursor };
  }

  async listOfFixtures(fixtureIds: readonly string[], asOn: Date): Promise<Operation[]> {
    return (await this.repository.listOfFixtures(fixtureIds, asOn)).map(toOperation);
  }

  async get(id: string): Promise<Operation> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toOperation(row);
  }

  async create(body: InputOf<Operations['create']>['body']): Promise<Operation> {
    assertNotAhead('validFrom', body.validFrom);
    const customerId = await this.repository.findCustomerOfFixture(body.fixtureId);
    if (customerId === null) throw notFound();
    const { id, fixtureId, ...fields } = body;
    await this.repository.insert({ id, fixtureId, customerId }, fields);
    await this.follow(id, fixtureId, customerId, 'create', body);
    return this.get(id);
  }

  /** The operation as it was ends; as it is now it begins, under an id of its own. The answer is the new one. */
  async update(id: string, version: number, body: InputOf<Operations['update']>['body']): Promise<Operation> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    if (before.validTo !== null) throw new AppError('request.conflict', { detail: 'This operation ended already.' });
    const { ended, validFrom = new Date().toISOString(), ...changes } = body;
    assertNotAhead('validFrom', validFrom);
    if (new Date(validFrom) <= new Date(before.validFrom)) {
      throw invalidField('validFrom', validFrom, 'an instant after the operation as it was before began');
    }
    const merged = this.merge(before, changes);
    if (!(await this.repository.end(id, version, new Date(validFrom)))) throw new AppError('request.stale');
    const next = ended === true ? id : uuidv7();
    if (ended !== true) {
      const { fixtureId, customerId } = before;
      await this.repository.insert({ id: next, fixtureId, customerId, version: version + 1 }, { ...merged, validFrom });
    }
    await this.follow(next, before.fixtureId, before.customerId, ended === true ? 'end' : 'update', body);
    return this.get(next);
  }

  private merge(before: Operation, changes: Omit<InputOf<Operations['update']>['body'], 'ended' | 'validFrom'>) {
    const { number, name, tool, material, requiredPressure, requiredSource, workpieceLimit } = before;
    const { workpieceNotLimiting, notLimitingReason, notLimitingBy } = before;
    const limit = { workpieceNotLimiting, notLimitingReason, notLimitingBy };
    const merged = {
      number,
      name,
      tool,
      material,
      requiredPressure,
      requiredSource,
      workpieceLimit,
      ...limit,
      ...changes,
    };
    const isNamed = merged.notLimitingReason !== '' && merged.notLimitingBy !== '';
    if (merged.workpieceNotLimiting && (merged.workpieceLimit !== null || !isNamed)) {
      throw invalidField('workpieceNotLimiting', true, 'a name and a reason, and no limit beside it');
    }
    return merged;
  }

  private follow(id: string, fixtureId: string, customerId: string, action: string, changes: Record<string, unknown>) {
    return this.consequences.of(
      { entity: 'fixture', ids: [fixtureId], change: `operation-${action}` },
      { action, entity: 'operation', entityId: id, customerId, changes },
    );
  }
}
