import { setupRecordSchema, type SetupRecord, type TargetSetting } from '@repo/contracts';
import { dayOrNull, quantityFrom } from '../../platform/http/quantity-out.js';
import type { SetupRow, TargetRow } from './settings.repository.js';

const settings = (row: TargetRow | SetupRow) => ({
  setting: quantityFrom(row.settingEntered),
  settingTolerance: quantityFrom(row.settingToleranceEntered),
  setPoint: quantityFrom(row.setPointEntered),
  resetPoint: quantityFrom(row.resetPointEntered),
  airPressure: quantityFrom(row.airPressureEntered),
  pumpRestart: quantityFrom(row.pumpRestartEntered),
  pumpRestartTolerance: quantityFrom(row.pumpRestartToleranceEntered),
});

export const toTargetSetting = (row: TargetRow): TargetSetting => ({
  id: row.id,
  customerId: row.customerId,
  circuitId: row.circuitId,
  revision: row.revision,
  ...settings(row),
  reason: row.reason,
  releasedAt: row.releasedAt.toISOString(),
  releasedByName: row.releasedByName,
});

export const toSetupRecord = (row: SetupRow): SetupRecord => ({
  id: row.id,
  customerId: row.customerId,
  circuitId: row.circuitId,
  revision: row.revision,
  ...settings(row),
  clampTime: quantityFrom(row.clampTimeEntered),
  contactTime: quantityFrom(row.contactTimeEntered),
  unclampTime: quantityFrom(row.unclampTimeEntered),
  timeTolerance: quantityFrom(row.timeToleranceEntered),
  decay: quantityFrom(row.decayEntered),
  decayDuration: quantityFrom(row.decayDurationEntered),
  oilTemperature: quantityFrom(row.oilTemperatureEntered),
  lowestWhileShared: quantityFrom(row.lowestWhileSharedEntered),
  gaugeSpan: quantityFrom(row.gaugeSpanEntered),
  gaugeClass: row.gaugeClass,
  gaugeIdentity: row.gaugeIdentity,
  gaugeCalibratedOn: dayOrNull(row.gaugeCalibratedOn),
  gaugeCalibrationDueOn: dayOrNull(row.gaugeCalibrationDueOn),
  basis: setupRecordSchema.shape.basis.parse(row.basis),
  reportName: row.reportName,
  fixtureId: row.fixtureId,
  fixtureName: row.fixture?.name ?? null,
  reason: row.reason,
  measuredAt: row.measuredAt.toISOString(),
  measuredByName: row.measuredByName,
  recordedAt: row.recordedAt.toISOString(),
  recordedByName: row.recordedByName,
});

/** What one revision has in common with the next, so that the trail can tell both values: why, when and by whom it was said is its own. */
export const toFormer = (row: TargetSetting | SetupRecord): object => {
  const { id: _id, circuitId: _circuitId, reason: _reason, ...former } = row;
  if (!('measuredAt' in former)) return former;
  const { measuredAt: _at, measuredByName: _by, reportName: _report, ...measured } = former;
  return measured;
};
