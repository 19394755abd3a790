import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db, quantityColumns } from '../../platform/db/index.js';

type TargetBody = InputOf<(typeof routes.targetSettings)['release']>['body'];
type SetupBody = InputOf<(typeof routes.setupRecords)['create']>['body'];

const settings = (body: TargetBody | SetupBody) => ({
  ...quantityColumns('settingPa', 'settingEntered', 'pressure', body.setting),
  ...quantityColumns('settingTolerancePa', 'settingToleranceEntered', 'pressure', body.settingTolerance),
  ...quantityColumns('setPointPa', 'setPointEntered', 'pressure', body.setPoint),
  ...quantityColumns('resetPointPa', 'resetPointEntered', 'pressure', body.resetPoint),
  ...quantityColumns('airPressurePa', 'airPressureEntered', 'pressure', body.airPressure),
  ...quantityColumns('pumpRestartPa', 'pumpRestartEntered', 'pressure', body.pumpRestart),
  ...quantityColumns('pumpRestartTolerancePa', 'pumpRestartToleranceEntered', 'pressure', body.pumpRestartTolerance),
});
const measured = (body: SetupBody) => ({
  ...quantityColumns('clampTimeS', 'clampTimeEntered', 'time', body.clampTime),
  ...quantityColumns('contactTimeS', 'contactTimeEntered', 'time', body.contactTime),
  ...quantityColumns('timeToleranceS', 'timeToleranceEntered', 'time', body.timeTolerance),
  ...quantityColumns('unclampTimeS', 'unclampTimeEntered', 'time', body.unclampTime),
  ...quantityColumns('decayPa', 'decayEntered', 'pressure', body.decay),
  ...quantityColumns('decayDurationS', 'decayDurationEntered', 'time', body.decayDuration),
  ...quantityColumns('oilTemperatureK', 'oilTemperatureEntered', 'temperature', body.oilTemperature),
  ...quantityColumns('lowestWhileSharedPa', 'lowestWhileSharedEntered', 'pressure', body.lowestWhileShared),
  ...quantityColumns('gaugeSpanPa', 'gaugeSpanEntered', 'pressure', body.gaugeSpan),
});
const withFixture = { fixture: { select: { name: true } } } as const;

@Injectable()
export class SettingsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private key(id: string) {
    return { organisationId_id: { organisationId: this.organisationId, id } };
  }

  findTarget(id: string) {
    return this.db.tx.targetSetting.findUnique({ where: this.key(id) });
  }

  findSetup(id: string) {
    return this.db.tx.setupRecord.findUnique({ where: this.key(id), include: withFixture });
  }

  listTargets(circuitId: string, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.targetSetting.findMany({
      where: {
        organisationId: this.organisationId,
        circuitId,
        ...(after === null ? {} : { revision: { lt: Number(after[0]) } }),
      },
      orderBy: { revision: 'desc' },
      take: limit + 1,
    });
  }

  listSetups(circuitId: string, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.setupRecord.findMany({
      where: {
        organisationId: this.organisationId,
        circuitId,
        ...(after === null ? {} : { revision: { lt: Number(after[0]) } }),
      },
      include: withFixture,
      orderBy: { revision: 'desc' },
      take: limit + 1,
    });
  }

  latestTargets(circuitIds: readonly string[], asOn: Date) {
    return this.db.tx.targetSetting.findMany({
      where: { organisationId: this.organisationId, circuitId: { in: [...circuitIds] }, releasedAt: { lte: asOn } },
      orderBy: { revision: 'desc' },
      distinct: ['circuitId'],
    });
  }

  latestSetups(circuitIds: readonly string[], asOn: Date) {
    return this.db.tx.setupRecord.findMany({
      where: { organisationId: this.organisationId, circuitId: { in: [...circuitIds] }, measuredAt: { lte: asOn } },
      include: withFixture,
      orderBy: [{ measuredAt: 'desc' }, { revision: 'desc' }],
      distinct: ['circuitId'],
    });
  }

  /** The circuit's owner and station, with a lock on the circuit so that revisions follow each other. */
  async lockCircuit(circuitId: string): Promise<{ customerId: string; stationId: string } | null> {
    const rows = await this.db.tx.$queryRaw<{ customerId: string; stationId: string }[]>`
      SELECT customer_id AS "customerId", station_id AS "stationId",
             pg_advisory_xact_lock(hashtextextended(${`settings ${circuitId}`}, 0))::text AS locked
      FROM circuits WHERE organisation_id = ${this.organisationId}::uuid AND id = ${circuitId}::uuid`;
    return rows[0] ?? null;
  }

  async newestRevision(kind: 'target' | 'setup', circuitId: string): Promise<number> {
    const where = { organisationId: this.organisationId, circuitId };
    const newest =
      kind === 'target'
        ? await this.db.tx.targetSetting.aggregate({ where, _max: { revision: true } })
        : await this.db.tx.setupRecord.aggregate({ where, _max: { revision: true } });
    return newest._max.revision ?? 0;
  }

  async findFittedFixture(stationId: string, at: Date): Promise<string | null> {
    const fitting = await this.db.tx.fixtureFitting.findFirst({
      where: {
        organisationId: this.organisationId,
        stationId,
        validFrom: { lte: at },
        OR: [{ validTo: null }, { validTo: { gt: at } }],
      },
      select: { fixtureId: true },
    });
    return fitting?.fixtureId ?? null;
  }

  async insertTarget(customerId: string, revision: number, body: TargetBody): Promise<void> {
    const { id, circuitId, reason } = body;
    const { actor } = this.db;
    await this.db.tx.targetSetting.create({
      data: {
        organisationId: this.organisationId,
        customerId,
        id,
        circuitId,
        revision,
        reason,
        releasedBy: actor.membershipId,
        releasedByName: actor.displayName,
        ...settings(body),
      },
    });
  }

  async insertSetup(customerId: string, revision: number, fixtureId: string | null, body: SetupBody): Promise<void> {
    const { id, circuitId, reason, reportName, measuredAt, measuredByName } = body;
    const { gaugeClass, gaugeIdentity, gaugeCalibratedOn, gaugeCalibrationDueOn } = body;
    const { actor } = this.db;
    await this.db.tx.setupRecord.create({
      data: {
        organisationId: this.organisationId,
        customerId,
        id,
        circuitId,
        revision,
        fixtureId,
        basis: 'report',
        reason,
        reportName,
        measuredAt: new Date(measuredAt),
        measuredByName,
        gaugeClass,
        gaugeIdentity,
        gaugeCalibratedOn: gaugeCalibratedOn === null ? null : new Date(gaugeCalibratedOn),
        gaugeCalibrationDueOn: gaugeCalibrationDueOn === null ? null : new Date(gaugeCalibrationDueOn),
        recordedBy: actor.membershipId,
        recordedByName: actor.displayName,
        ...settings(body),
        ...measured(body),
      },
    });
  }
}
export type TargetRow = NonNullable<Awaited<ReturnType<SettingsRepository['findTarget']>>>;
export type SetupRow = NonNullable<Awaited<ReturnType<SettingsRepository['findSetup']>>>;
