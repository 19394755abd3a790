import { z } from 'zod';
import { circuitSchema, pressureLadderSchema, settingsInUseSchema } from '../circuits/circuits.schema.js';
import { standingSchema } from '../standings/standings.schema.js';
import { idSchema, instantSchema } from '../common/ids.js';
import { quantityOutSchema } from '../common/quantity.js';
import { installedComponentSchema } from '../components/installed-components.schema.js';
import { operationSchema } from '../operations/operations.schema.js';
import { powerUnitSchema } from '../power-units/power-units.schema.js';
import { setupRecordSchema, targetSettingSchema } from '../settings/settings.schema.js';
import { machineSchema } from './machines.schema.js';

export const fittedFixtureSchema = z.object({
  fittingId: idSchema,
  fixtureId: idSchema,
  name: z.string(),
  validFrom: instantSchema,
  reason: z.string(),
  /** the fixture before it, when it was changed */
  previousName: z.string().nullable(),
});

/** One circuit of a machine on one day: what is fitted, how it is set, and what follows. */
export const circuitOverviewSchema = z.object({
  circuit: circuitSchema,
  fixture: fittedFixtureSchema.nullable(),
  operations: z.array(operationSchema),
  settings: settingsInUseSchema,
  target: targetSettingSchema.nullable(),
  asLeft: setupRecordSchema.nullable(),
  ladder: pressureLadderSchema,
});
export type CircuitOverview = z.infer<typeof circuitOverviewSchema>;

export const machineOverviewSchema = z
  .object({
    machine: machineSchema,
    asOn: instantSchema,
    basis: z.enum(['as-left', 'target']),
    /** of the worst circuit */
    status: z.string(),
    powerUnits: z.array(powerUnitSchema),
    circuits: z.array(circuitOverviewSchema),
    components: z.array(installedComponentSchema),
    openIssues: z.int(),
    /** since when nothing is reported of it although a source should; null: reports come, or nobody reports of it */
    silentSince: instantSchema.nullable(),
  })
  .meta({ id: 'MachineOverview' });
export type MachineOverview = z.infer<typeof machineOverviewSchema>;

/** A component as the setup record has it: what it is, and for which pressure it is made. */
export const fittedComponentSchema = installedComponentSchema
  .pick({ id: true, circuitId: true, kind: true, designation: true, componentTypeName: true, serial: true, lot: true })
  .extend({ ratedPressure: quantityOutSchema.nullable() })
  .meta({ id: 'FittedComponent' });
export type FittedComponent = z.infer<typeof fittedComponentSchema>;

/** What a customer sees of a machine: how it was left, and how it stands. */
export const machineSetupSchema = z
  .object({
    machine: machineSchema,
    /** since when nothing is reported of it although a source should; null: reports come, or nobody reports of it */
    silentSince: instantSchema.nullable(),
    circuits: z.array(
      z.object({
        circuit: circuitSchema,
        fixtureName: z.string().nullable(),
        target: targetSettingSchema.nullable(),
        asLeft: setupRecordSchema.nullable(),
        standing: standingSchema.nullable(),
      }),
    ),
    /** what is fitted, on circuits and power units */
    components: z.array(fittedComponentSchema),
  })
  .meta({ id: 'MachineSetup' });
export type MachineSetup = z.infer<typeof machineSetupSchema>;
