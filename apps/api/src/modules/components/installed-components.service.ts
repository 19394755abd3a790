import { Injectable } from '@nestjs/common';
import {
  checkFigures,
  componentKindSchema,
  lineFunctionSchema,
  sensingSchema,
  type InputOf,
  type InstalledComponent,
  type routes,
} from '@repo/contracts';
import { beginsAfter } from '../../platform/clock/period.js';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { dayOrNull, isoOrNull } from '../../platform/http/quantity-out.js';
import { assertNotAhead } from '../../platform/http/not-ahead.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { InstalledComponentsRepository, type InstalledRow } from './installed-components.repository.js';
import { fromStoredFigures, toStoredFigures } from './stored-figures.js';

type Installed = typeof routes.installedComponents;

const toInstalled = (row: InstalledRow): InstalledComponent => ({
  id: row.id,
  customerId: row.customerId,
  machineId: row.machineId,
  powerUnitId: row.powerUnitId,
  circuitId: row.circuitId,
  componentTypeId: row.componentTypeId,
  componentTypeName: row.componentType.name,
  kind: componentKindSchema.parse(row.componentType.kind),
  designation: row.designation,
  lineFunctions: row.lineFunctions.map((line) => lineFunctionSchema.parse(line)),
  serial: row.serial,
  lot: row.lot,
  madeOn: dayOrNull(row.madeOn),
  figures: fromStoredFigures(row.figures, row.designation),
  effectiveFigures: {
    ...fromStoredFigures(row.componentType.figures, row.componentType.name),
    ...fromStoredFigures(row.figures, row.designation),
  },
  sensing: sensingSchema.nullable().parse(row.sensing),
  isBeyondShutOff: row.isBeyondShutOff,
  validFrom: row.validFrom.toISOString(),
  validTo: isoOrNull(row.validTo),
  reason: row.reason,
  removedReason: row.removedReason,
  recordedAt: row.recordedAt.toISOString(),
  version: row.version,
});

@Injectable()
export class InstalledComponentsService {
  constructor(
    private readonly repository: InstalledComponentsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Installed['list']>['query']) {
    const after = this.cursors.read('installed-components', query.cursor, 1);
    const asOn = query.asOn === undefined ? undefined : new Date(query.asOn);
    const filter = { machineId: query.machineId, circuitId: query.circuitId, asOn };
    const rows = await this.repository.list(filter, after, query.limit);
    const page = this.cursors.page('installed-components', rows, query.limit, (row) => [row.id]);
    return { ...readable(page.rows, toInstalled), nextCursor: page.nextCursor };
  }

  async listOfMachine(machineId: string, asOn: Date): Promise<InstalledComponent[]> {
    const rows = await this.repository.list({ machineId, circuitId: undefined, asOn }, null, 1000);
    return rows.map(toInstalled).sort((a, b) => a.designation.localeCompare(b.designation, 'en', { numeric: true }));
  }

  async get(id: string): Promise<InstalledComponent> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toInstalled(row);
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<Installed['create']>['body']): Promise<Added> {
    assertNotAhead('validFrom', body.validFrom);
    const place = await this.repository.findPlace(body);
    if (place.machine === null || place.type === null) throw notFound();
    if ((body.circuitId === null ? place.unit : place.circuit)?.machineId !== body.machineId) {
      throw invalidField(body.circuitId === null ? 'powerUnitId' : 'circuitId', body.circuitId, 'one of this machine');
    }
    const kind = componentKindSchema.parse(place.type.kind);
    const ofType = fromStoredFigures(place.type.figures, place.type.name);
    const refuse: Parameters<typeof checkFigures>[2] = ({ path, message }) => {
      throw invalidField(path.join('.'), body.figures[String(path[1])], message, 'figure');
    };
    checkFigures(body.figures, kind, refuse, ofType);
    const replaced = body.replacesId === null ? [] : [await this.endReplaced(body.replacesId, body)];
    await this.repository.insert(place.machine.customerId, body, toStoredFigures(body.figures, kind));
    const { customerId } = place.machine;
    return this.toChange(body, customerId, body.replacesId === null ? 'fit' : 'exchange', { ...body }, replaced);
  }

  async create(body: InputOf<Installed['create']>['body']): Promise<InstalledComponent> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }

  async remove(id: string, version: number, body: InputOf<Installed['remove']>['body']): Promise<InstalledComponent> {
    assertNotAhead('validTo', body.validTo);
    const before = await this.get(id);
    assertVersion(before.version, version);
    if (before.validTo !== null) throw new AppError('request.conflict', { detail: 'It was taken out already.' });
    if (!beginsAfter(body.validTo, before.validFrom)) {
      throw invalidField('validTo', body.validTo, 'an instant after it was fitted');
    }
    if (!(await this.repository.end(id, version, new Date(body.validTo), body.reason)))
      throw new AppError('request.stale');
    const { done, touched } = this.toChange(before, before.customerId, 'remove', { ...body });
    await this.consequences.of(done, touched);
    return this.get(id);
  }

  private async endReplaced(replacedId: string, by: InputOf<Installed['create']>['body']): Promise<InstalledComponent> {
    const replaced = await this.get(replacedId);
    if (replaced.machineId !== by.machineId) throw notFound();
    if (!beginsAfter(by.validFrom, replaced.validFrom)) {
      throw invalidField('validFrom', by.validFrom, 'an instant after the component before it was fitted');
    }
    const reason = by.reason === '' ? 'exchanged' : by.reason;
    if (!(await this.repository.end(replacedId, replaced.version, new Date(by.validFrom), reason))) {
      throw new AppError('request.conflict', { detail: 'The component that this one replaces was taken out already.' });
    }
    return replaced;
  }

  private toChange(
    component: Pick<InstalledComponent, 'id' | 'circuitId' | 'powerUnitId'>,
    customerId: string,
    action: string,
    changes: Record<string, unknown>,
    replaced: readonly InstalledComponent[] = [],
  ): Added {
    return {
      done: { action, entity: 'installed-component', entityId: component.id, customerId, changes },
      // What is replaced may have sat elsewhere on the machine.
      touched: [component, ...replaced].flatMap(({ circuitId, powerUnitId }) => [
        ...dependOn('components-of-circuit', circuitId),
        ...dependOn('components-of-power-unit', powerUnitId),
      ]),
    };
  }
}
