import { Injectable } from '@nestjs/common';
import { MACHINE_FIGURES } from '@repo/calc/figures';
import { machineSchema, UNSAID_BEHAVIOUR, type InputOf, type Machine, type routes } from '@repo/contracts';
import { controlBehaviour } from '../../documents/asked-of-circuits.js';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { figuresFrom } from '../../platform/http/figures-out.js';
import { dayOrNull, isoOrNull } from '../../platform/http/quantity-out.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { MachinesRepository, type MachineRow } from './machines.repository.js';
import { fitsForm } from './station-count.js';

type Machines = typeof routes.machines;

const { form: formSchema, wayIn: wayInSchema, disposition: dispositionSchema } = machineSchema.shape;

const toMachine = (row: MachineRow): Machine => ({
  id: row.id,
  customerId: row.customerId,
  customerName: row.customer.name,
  siteId: row.siteId,
  siteName: row.site.name,
  place: row.site.place,
  timeZone: row.site.timeZone,
  name: row.name,
  description: row.description,
  model: row.model,
  serial: row.serial,
  ...figuresFrom(MACHINE_FIGURES, row),
  form: formSchema.parse(row.form),
  wayIn: wayInSchema.parse(row.wayIn),
  axes: row.axes,
  inServiceOn: dayOrNull(row.inServiceOn),
  warrantyUntil: dayOrNull(row.warrantyUntil),
  trainedPersons: row.trainedPersons,
  kitList: row.kitList,
  asShipped: row.asShipped,
  asReceived: row.asReceived,
  quoteReference: row.quoteReference,
  emergencyStopBehaviour: row.emergencyStopBehaviour,
  controlBehaviour: { ...UNSAID_BEHAVIOUR, ...controlBehaviour.read(row.controlBehaviour, row.name) },
  disposition: dispositionSchema.parse(row.disposition),
  dispositionOn: dayOrNull(row.dispositionOn),
  predecessorMachineId: row.predecessorMachineId,
  stations: row.stationsByMachineId.map(({ id, machineId, name, position, version }) => ({
    id,
    machineId,
    name,
    position,
    version,
  })),
  createdAt: row.createdAt.toISOString(),
  archivedAt: isoOrNull(row.archivedAt),
  version: row.version,
});

@Injectable()
export class MachinesService {
  constructor(
    private readonly repository: MachinesRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Machines['list']>['query']) {
    const after = this.cursors.read('machines', query.cursor, 2);
    const { siteId, customerId, search } = query;
    const rows = await this.repository.list({ siteId, customerId, search }, after, query.limit);
    const page = this.cursors.page('machines', rows, query.limit, (row) => [row.name, row.id]);
    return { ...readable(page.rows, toMachine), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Machine> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toMachine(row);
  }

  countOpenIssues(id: string): Promise<number> {
    return this.repository.countOpenIssues(id);
  }

  async silentSince(id: string): Promise<string | null> {
    return (await this.repository.findSilence(id))?.toISOString() ?? null;
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<Machines['create']>['body']): Promise<Added> {
    const customerId = await this.repository.findCustomerOfSite(body.siteId);
    if (customerId === null) throw notFound();
    if (!fitsForm(body.form, body.stations.length)) {
      throw invalidField('stations', body.stations.length, 'exactly one station on a single-station machine');
    }
    // A sold machine's record stays with its former owner; the new one names it only within the same customer.
    if (body.predecessorMachineId !== null && !(await this.repository.isThere(body.predecessorMachineId, customerId))) {
      throw invalidField('predecessorMachineId', body.predecessorMachineId, 'a machine of the same customer');
    }
    await this.repository.insert(customerId, body);
    const done = { action: 'create', entity: 'machine', entityId: body.id, customerId, changes: body };
    return { done, touched: dependOn('machine', body.id) };
  }

  async create(body: InputOf<Machines['create']>['body']): Promise<Machine> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<Machines['update']>['body']): Promise<Machine> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    if (body.siteId !== undefined && body.siteId !== before.siteId) {
      const customerId = await this.repository.findCustomerOfSite(body.siteId);
      if (customerId === null) throw notFound();
      if (customerId !== before.customerId) throw invalidField('siteId', body.siteId, 'a site of the same customer');
    }
    if (!(await this.repository.update(id, version, body))) throw new AppError('request.stale');
    if (body.siteId !== undefined && body.siteId !== before.siteId) {
      await this.repository.insertPlacement(before.customerId, id, body.siteId, 'moved');
    }
    await this.consequences.of(
      {
        action: 'update',
        entity: 'machine',
        entityId: id,
        customerId: before.customerId,
        changes: body,
        before,
      },
      dependOn('machine', id),
    );
    return this.get(id);
  }
}
