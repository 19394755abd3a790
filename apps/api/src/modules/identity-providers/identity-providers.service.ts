import { Inject, Injectable } from '@nestjs/common';
import type { IdentityProvider, InputOf, routes } from '@repo/contracts';
import { ENV, type Env } from '../../config/env.js';
import { Audit } from '../../platform/audit/audit.js';
import type { Actor } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { Vault } from '../../platform/auth/vault.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { IdentityProvidersRepository, type ProviderRow } from './identity-providers.repository.js';
import { OpenId, type Provider } from './open-id.js';
import { ProviderSignInsRepository } from './provider-sign-ins.repository.js';

type Providers = typeof routes.identityProviders;

/** Names the key under which client secrets are sealed. */
export const CLIENT_SECRETS = 'client secrets of providers';
/** The page that providers send people back to. */
const REDIRECT_PATH = '/provider-sign-in';

/** Providers that are being set up at once: each may take seconds to answer, and holds a connection to the database meanwhile. */
const SET_UP_AT_ONCE = 2;
const COME_BACK_S = 5;

/** Where providers send people back to: the installation's own address, else where the request came to. */
export const toRedirectUri = (env: Env, { site }: Origin): string =>
  new URL(REDIRECT_PATH, env.PUBLIC_URL ?? site).href;

/** An organisation's own sign-in, set up by its administrator. */
@Injectable()
export class IdentityProvidersService {
  /** organisations whose provider is being asked just now */
  private readonly asking = new Set<string>();

  constructor(
    private readonly repository: IdentityProvidersRepository,
    private readonly signIns: ProviderSignInsRepository,
    private readonly openId: OpenId,
    private readonly vault: Vault,
    private readonly audit: Audit,
    @Inject(ENV) private readonly env: Env,
  ) {}

  async list(origin: Origin) {
    const rows = await this.repository.listLive();
    return { items: rows.map((row) => this.toProvider(row, origin)) };
  }

  async create(
    body: InputOf<Providers['create']>['body'],
    { organisationId }: Actor,
    origin: Origin,
  ): Promise<IdentityProvider> {
    await this.ask(body, organisationId);
    const { id, name, issuer, clientId, clientSecret } = body;
    await this.repository.insert({ id, name, issuer, clientId, clientSecretSealed: this.seal(id, clientSecret) });
    await this.audit.record({
      action: 'create',
      entity: 'identity-provider',
      entityId: id,
      changes: { name, issuer, clientId },
    });
    return this.toProvider(await this.find(id), origin);
  }

  async update(
    id: string,
    version: number,
    body: InputOf<Providers['update']>['body'],
    actor: Actor,
    origin: Origin,
  ): Promise<IdentityProvider> {
    const before = await this.find(id);
    assertVersion(before.version, version);
    const { name, clientId, clientSecret, archived } = body;
    const changed = await this.repository.update(id, version, {
      ...(name === undefined ? {} : { name }),
      ...(clientId === undefined ? {} : { clientId }),
      ...(clientSecret === undefined ? {} : { clientSecretSealed: this.seal(id, clientSecret) }),
      ...(archived === undefined ? {} : { archivedAt: new Date() }),
    });
    if (!changed) throw new AppError('request.stale');
    if (archived === true) await this.signIns.endSessions(actor.organisationId);
    const { clientSecret: _secret, ...audited } = body;
    await this.audit.record({ action: 'update', entity: 'identity-provider', entityId: id, changes: audited, before });
    return this.toProvider(await this.find(id), origin);
  }

  /** One at a time for an organisation, few in all: a provider that never answers is its own organisation's trouble alone. */
  private async ask(provider: Provider, organisationId: string): Promise<void> {
    if (this.asking.has(organisationId) || this.asking.size >= SET_UP_AT_ONCE) {
      throw new AppError('service.unavailable', {
        detail: 'Another sign-in is being set up just now.',
        retryAfterS: COME_BACK_S,
      });
    }
    this.asking.add(organisationId);
    try {
      await this.openId.discover(provider);
    } finally {
      this.asking.delete(organisationId);
    }
  }

  private async find(id: string): Promise<ProviderRow> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }

  private seal(id: string, secret: string): Uint8Array<ArrayBuffer> {
    return new Uint8Array(this.vault.seal({ purpose: CLIENT_SECRETS, owner: id }, Buffer.from(secret)));
  }

  private toProvider(row: ProviderRow, origin: Origin): IdentityProvider {
    return {
      id: row.id,
      name: row.name,
      issuer: row.issuer,
      clientId: row.clientId,
      createdAt: row.createdAt.toISOString(),
      archivedAt: isoOrNull(row.archivedAt),
      redirectUri: toRedirectUri(this.env, origin),
      version: row.version,
    };
  }
}
