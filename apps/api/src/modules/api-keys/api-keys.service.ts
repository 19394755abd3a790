import { Injectable } from '@nestjs/common';
import { allRoutes, apiKeySchema, type ApiKey, type CreatedApiKey, type InputOf, type routes } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { Audit } from '../../platform/audit/audit.js';
import { API_KEY_PREFIX, mayKeyCall } from '../../platform/auth/api-keys.js';
import { makeToken, sha256 } from '../../platform/auth/sessions.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { ApiKeysRepository, type ApiKeyRow } from './api-keys.repository.js';

type ApiKeyRoutes = typeof routes.apiKeys;

function toApiKey(row: ApiKeyRow): ApiKey {
  const secrets = row.secrets.map((secret) => ({
    id: secret.id,
    createdAt: new Date(secret.created_at).toISOString(),
    expiresAt: secret.expires_at === null ? null : new Date(secret.expires_at).toISOString(),
    lastUsedAt: secret.last_used_at === null ? null : new Date(secret.last_used_at).toISOString(),
  }));
  const used = secrets.flatMap(({ lastUsedAt }) => (lastUsedAt === null ? [] : [lastUsedAt])).sort();
  return {
    id: row.id,
    name: row.name,
    role: apiKeySchema.shape.role.parse(row.role),
    areas: row.areas,
    mayWrite: row.may_write,
    createdByName: row.created_by_name,
    createdAt: row.created_at.toISOString(),
    archivedAt: isoOrNull(row.archived_at),
    lastUsedAt: used.at(-1) ?? null,
    isLive: row.archived_at === null && row.is_vouched_for && secrets.length > 0,
    secrets,
    version: row.version,
  };
}

/** Keys of programs: scoped, kept as hashes, shown once. */
@Injectable()
export class ApiKeysService {
  constructor(
    private readonly repository: ApiKeysRepository,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<ApiKeyRoutes['list']>['query']) {
    const after = this.cursors.read('api-keys', query.cursor, 1);
    const rows = await this.repository.list(after, query.limit, query.archived === 'true');
    const page = this.cursors.page('api-keys', rows, query.limit, (row) => [row.name]);
    return { items: page.rows.map(toApiKey), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<ApiKey> {
    return toApiKey(await this.find(id));
  }

  async create(body: InputOf<ApiKeyRoutes['create']>['body']): Promise<CreatedApiKey> {
    const areas = this.checkAreas(body.areas, body.role, body.mayWrite);
    await this.repository.insert({ ...body, areas });
    const secret = await this.addSecret(body.id);
    const { name, role, mayWrite } = body;
    await this.record('create', body.id, { name, role, areas, mayWrite });
    return { ...(await this.get(body.id)), secret };
  }

  async update(id: string, version: number, body: InputOf<ApiKeyRoutes['update']>['body']): Promise<ApiKey> {
    const before = await this.find(id);
    assertVersion(before.version, version);
    const { archived, areas, name, mayWrite } = body;
    const role = apiKeySchema.shape.role.parse(before.role);
    const changed = await this.repository.update(id, version, {
      ...(name === undefined ? {} : { name }),
      ...(mayWrite === undefined ? {} : { mayWrite }),
      ...(areas === undefined ? {} : { areas: this.checkAreas(areas, role, mayWrite ?? before.may_write) }),
      ...(archived === undefined ? {} : { archivedAt: archived ? new Date() : null }),
    });
    if (!changed) throw new AppError('request.stale');
    // Ended for good: brought back, it needs a new secret.
    if (archived === true) await this.repository.endSecrets(id, 0);
    const edited = {
      action: 'update',
      entity: 'api-key',
      entityId: id,
      changes: { ...body },
      before: toApiKey(before),
    };
    await this.audit.record(edited);
    return this.get(id);
  }

  /** A new secret; the one before goes on for the overlap, so that a program changes over without a gap. */
  async rotate(id: string, overlapHours: number): Promise<CreatedApiKey> {
    const row = await this.find(id);
    if (row.archived_at !== null) throw new AppError('request.conflict', { detail: 'The key has ended.' });
    await this.repository.endSecrets(id, overlapHours);
    const secret = await this.addSecret(id);
    await this.repository.vouch(id);
    await this.record('rotate-secret', id, { overlapHours });
    return { ...(await this.get(id)), secret };
  }

  private async find(id: string): Promise<ApiKeyRow> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }

  private async addSecret(apiKeyId: string): Promise<string> {
    const secret = API_KEY_PREFIX + makeToken();
    await this.repository.insertSecret(uuidv7(), apiKeyId, new Uint8Array(sha256(secret)));
    return secret;
  }

  /** Each area once, and only those in which the key could call anything at all. */
  private checkAreas(areas: readonly string[], role: ApiKey['role'], mayWrite: boolean): string[] {
    const unique = [...new Set(areas)].sort();
    const useless = unique.find(
      (area) => !allRoutes.some((route) => route.area === area && mayKeyCall(route, role, { areas: [area], mayWrite })),
    );
    if (useless !== undefined) throw invalidField('areas', useless, 'areas that this role can use with a key');
    return unique;
  }

  private record(action: string, entityId: string, changes: Record<string, unknown>): Promise<void> {
    return this.audit.record({ action, entity: 'api-key', entityId, changes });
  }
}
