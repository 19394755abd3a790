import { Injectable } from '@nestjs/common';
import { CALCULATION_VERSION } from '@repo/calc';
import { operationSchema, type InputOf, type Operation, type routes } from '@repo/contracts';
import { operationCut } from '../../documents/operation-cut.js';
import { isDeepStrictEqual } from 'node:util';
import { uuidv7 } from 'uuidv7';
import type { AuditFact } from '../../platform/audit/audit.js';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { assertNotAhead } from '../../platform/http/not-ahead.js';
import { isoOrNull, quantityFrom } from '../../platform/http/quantity-out.js';
import { ConsequencesService, dependOn } from '../sizing/index.js';
import { OperationsRepository, type OperationRow } from './operations.repository.js';
import { RequiredPressureService } from './required-pressure.service.js';
import { COMPUTED_BY, typedRequiredOf } from './typed-required.js';

type Operations = typeof routes.operations;

/** As a person would write it, upwards to the next hundredth of a bar: less would not hold. */
const STEP_PA = 1000;
const asWritten = (pressurePa: number) => ({ value: Math.ceil(pressurePa / STEP_PA) / 100, unit: 'bar', digits: 2 });

/** An operation that was computed anew: the one that ended, with its version then, and the one that began. */
interface Recomputed {
  readonly fact: AuditFact;
  readonly ended: { readonly id: string; readonly version: number };
  readonly begun: { readonly id: string; readonly version: number };
}

const { requiredBasis: basisSchema } = operationSchema.shape;

const toOperation = (row: OperationRow): Operation => ({
  ...operationCut.read(row.cut, `operation ${row.number}`),
  id: row.id,
  customerId: row.customerId,
  fixtureId: row.fixtureId,
  number: row.number,
  name: row.name,
  tool: row.tool,
  material: row.material,
  requiredPressure: quantityFrom(row.requiredPressureEntered),
  requiredBasis: basisSchema.parse(row.requiredBasis),
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
    private readonly pressures: RequiredPressureService,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Operations['list']>['query']) {
    const after = this.cursors.read('operations', query.cursor, 1);
    const filter = { fixtureId: query.fixtureId, isCurrent: query.current === 'true' };
    const rows = await this.repository.list(filter, after, query.limit);
    const page = this.cursors.page('operations', rows, query.limit, (row) => [row.id]);
    return { ...readable(page.rows, toOperation), nextCursor: page.nextCursor };
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
    const fixture = await this.repository.findFixture(body.fixtureId);
    if (fixture === null) throw notFound();
    const { customerId } = fixture;
    const { id, fixtureId, ...fields } = body;
    const required = await this.require(fields, fixture.elements);
    await this.repository.insert({ id, fixtureId, customerId }, { ...fields, ...required });
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
      const fixture = await this.repository.findFixture(fixtureId);
      const required = await this.require(merged, fixture?.elements ?? []);
      const fields = { ...merged, ...required, validFrom };
      await this.repository.insert({ id: next, fixtureId, customerId, version: version + 1 }, fields);
    }
    await this.follow(next, before.fixtureId, before.customerId, ended === true ? 'end' : 'update', body, before);
    return this.get(next);
  }

  private merge(before: Operation, changes: Omit<InputOf<Operations['update']>['body'], 'ended' | 'validFrom'>) {
    const { number, name, tool, material, workpieceLimit, requiredBasis, cut } = before;
    const { requiredPressure, requiredSource } = typedRequiredOf(before);
    const { workpieceNotLimiting, notLimitingReason, notLimitingBy } = before;
    const limit = { workpieceNotLimiting, notLimitingReason, notLimitingBy };
    const merged = {
      number,
      name,
      tool,
      material,
      requiredBasis,
      cut,
      requiredPressure,
      requiredSource,
      workpieceLimit,
      ...limit,
      ...changes,
    };
    if (merged.requiredBasis === 'computed' && merged.cut === null) {
      throw invalidField('cut', null, 'a cut to compute from');
    }
    const isNamed = merged.notLimitingReason !== '' && merged.notLimitingBy !== '';
    if (merged.workpieceNotLimiting && (merged.workpieceLimit !== null || !isNamed)) {
      throw invalidField('workpieceNotLimiting', true, 'a name and a reason, and no limit beside it');
    }
    return merged;
  }

  /** The required pressure as typed, or as computed from the cut and the fixture's elements; the other is kept beside. */
  private async require(
    fields: {
      requiredBasis: Operation['requiredBasis'];
      cut: Operation['cut'];
      requiredPressure: Operation['requiredPressure'];
      requiredSource: string;
    },
    elements: unknown,
  ) {
    const { requiredBasis, cut, requiredPressure, requiredSource } = fields;
    if (requiredBasis === 'typed' || cut === null) {
      return { requiredPressure, requiredSource, stored: { cut, computed: null, typedRequired: null } };
    }
    const computed = await this.pressures.compute(cut, elements);
    const typedRequired = requiredPressure === null ? null : { requiredPressure, requiredSource };
    const { requiredPressurePa, calculationVersion } = computed;
    return {
      requiredPressure: requiredPressurePa === null ? null : asWritten(requiredPressurePa),
      requiredSource: `${COMPUTED_BY} ${calculationVersion}`,
      stored: { cut, computed, typedRequired },
    };
  }

  /** As `create` and `update` do, for what is written in bulk: the fixture has its elements already. */
  async requireIn(fixtureId: string, fields: Parameters<OperationsService['require']>[0]) {
    // Of thousands that are typed none asks what holds it.
    const fixture = fields.requiredBasis === 'typed' ? null : await this.repository.findFixture(fixtureId);
    return this.require(fields, fixture?.elements ?? []);
  }

  /**
   * Computes anew what a fixture's elements bear on. An operation of which the answer changes ends as it was and begins
   * anew, so that a past day keeps what was believed.
   * @returns what was done, for the record of the fixture's change, and which operation took the place of which
   */
  async recomputeOfFixture(fixtureId: string): Promise<Recomputed[]> {
    const fixture = await this.repository.findFixture(fixtureId);
    if (fixture === null) return [];
    const recomputed: Recomputed[] = [];
    for (const row of await this.repository.listComputed(fixtureId)) {
      const before = toOperation(row);
      const fields = { ...before, ...this.merge(before, {}) };
      const required = await this.require(fields, fixture.elements);
      if (isDeepStrictEqual(required.stored.computed, before.computed)) continue;
      const validFrom = new Date(Math.max(Date.now(), row.validFrom.getTime() + 1));
      if (!(await this.repository.end(row.id, row.version, validFrom))) throw new AppError('request.stale');
      const next = uuidv7();
      await this.repository.insert(
        { id: next, fixtureId, customerId: row.customerId, version: row.version + 1 },
        { ...this.merge(before, {}), ...required, validFrom: validFrom.toISOString() },
      );
      const { customerId } = row;
      const { requiredPressure } = required;
      const fact = {
        action: 'recompute',
        entity: 'operation',
        entityId: next,
        customerId,
        changes: { requiredPressure },
        before,
      };
      recomputed.push({
        fact,
        ended: { id: row.id, version: row.version + 1 },
        begun: { id: next, version: row.version + 1 },
      });
    }
    return recomputed;
  }

  /**
   * Computes the operations of one fixture anew that another version of the calculations computed.
   * @returns whether there was one
   */
  async recomputeOutdated(): Promise<boolean> {
    const fixtureId = await this.repository.findOutdatedFixture(CALCULATION_VERSION);
    if (fixtureId === null) return false;
    const [fact, ...more] = (await this.recomputeOfFixture(fixtureId)).map((one) => one.fact);
    if (fact !== undefined) await this.consequences.of(fact, dependOn('operations-of-fixture', fixtureId), ...more);
    return fact !== undefined;
  }

  private follow(
    id: string,
    fixtureId: string,
    customerId: string,
    action: string,
    changes: Record<string, unknown>,
    before?: Operation,
  ) {
    return this.consequences.of(
      {
        action,
        entity: 'operation',
        entityId: id,
        customerId,
        changes,
        ...(before === undefined ? {} : { before }),
      },
      dependOn('operations-of-fixture', fixtureId),
    );
  }
}
