import { z } from 'zod';
import { idParamsSchema, idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, EVERYONE } from '../common/route.js';
import {
  createSetupRecordBodySchema,
  releaseTargetSettingBodySchema,
  setupRecordSchema,
  targetSettingSchema,
} from './settings.schema.js';

const ofCircuit = z.strictObject({ ...pageQueryShape, circuitId: idSchema });

export const targetSettingsRoutes = defineRoutes({
  list: {
    id: 'listTargetSettings',
    method: 'GET',
    path: '/target-settings',
    area: 'settings',
    summary: 'Revisions of the target settings of a circuit, newest first',
    access: EVERYONE,
    query: ofCircuit,
    response: pageOf(targetSettingSchema),
    status: 200,
  },
  get: {
    id: 'getTargetSetting',
    method: 'GET',
    path: '/target-settings/{id}',
    area: 'settings',
    summary: 'One revision of the target settings',
    access: EVERYONE,
    params: idParamsSchema,
    response: targetSettingSchema,
    status: 200,
  },
  release: {
    id: 'releaseTargetSetting',
    method: 'POST',
    path: '/target-settings',
    area: 'settings',
    summary: 'Release new target settings',
    access: ['engineer'],
    body: releaseTargetSettingBodySchema,
    response: targetSettingSchema,
    status: 201,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
});

export const setupRecordsRoutes = defineRoutes({
  list: {
    id: 'listSetupRecords',
    method: 'GET',
    path: '/setup-records',
    area: 'settings',
    summary: 'As-left settings of a circuit, newest first',
    access: EVERYONE,
    query: ofCircuit,
    response: pageOf(setupRecordSchema),
    status: 200,
  },
  get: {
    id: 'getSetupRecord',
    method: 'GET',
    path: '/setup-records/{id}',
    area: 'settings',
    summary: 'One setup record',
    access: EVERYONE,
    params: idParamsSchema,
    response: setupRecordSchema,
    status: 200,
  },
  create: {
    id: 'createSetupRecord',
    method: 'POST',
    path: '/setup-records',
    area: 'settings',
    summary: 'Record as-left settings from a named report',
    access: ['engineer', 'installer', 'lead'],
    body: createSetupRecordBodySchema,
    response: setupRecordSchema,
    status: 201,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
});
