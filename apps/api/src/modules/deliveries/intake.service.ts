import { createHash } from 'node:crypto';
import { Inject, Injectable, Logger, type BeforeApplicationShutdown } from '@nestjs/common';
import type { DeliveryReceipt, FindingKind } from '@repo/contracts';
import { ENV, type Env } from '../../config/env.js';
import { iso } from '../../platform/clock/iso.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { isDiskFull } from '../../platform/errors/database-errors.js';
import { EnvelopeError, readEnvelope } from './cloud-event.js';
import { DeliveryWriter } from './delivery-writer.js';
import { FewPerTurn } from './few-per-turn.js';
import { GroupCommit, type Committed } from './group-commit.js';
import { sqlStateOf } from './intake.repository.js';
import { MinuteLimit } from './minute-limit.js';
import type { Delivery } from './place-reports.js';
import { readDelivery } from './read-delivery.js';
import { SourceKeys, type KeysOfSource } from './source-keys.js';
import { JsonFaultError, parseStrictJson } from './strict-json.js';
import type { Outcome } from './take-in.js';
import { isSigned, isWithinTolerance, readSignatureHeaders, type SignatureHeaders } from './webhook-signature.js';

type Headers = Readonly<Record<string, string | string[] | undefined>>;

export interface IncomingRequest {
  readonly sourceId: string;
  readonly address: string;
  readonly headers: Headers;
  /** without parameters, in lower case */
  readonly contentType: string;
  /** as it came: mostly what is signed */
  readonly sent: Buffer;
  /** the same, unpacked where it came packed */
  readonly body: Buffer;
}

const MOST_WAITING_BYTES = 64 * 1024 * 1024;
const GROUP_BYTES = 8 * 1024 * 1024;
const GROUP_ITEMS = 500;
const LINGER_MS = 3;
/** Deliveries that are read in one turn of the event loop. */
const READ_PER_TURN = 2;
/** Attempts with a wrong signature, per source and address. */
const WRONG_PER_MINUTE = 120;
/** What the data of one delivery may have caused: class 22 (data), 23 (constraint), 54 (a limit). */
const OF_ONE = /^(22|23|54)...$/;

/** Takes deliveries of gateways: who may, is it readable, and then onto the disk before anybody is told so. */
@Injectable()
export class IntakeService implements BeforeApplicationShutdown {
  private readonly log = new Logger(IntakeService.name);
  private readonly group: GroupCommit<Delivery, Outcome>;
  private readonly pace = new FewPerTurn(READ_PER_TURN);
  private readonly wrong = new MinuteLimit(WRONG_PER_MINUTE);
  private readonly perSource: MinuteLimit;

  constructor(
    private readonly keys: SourceKeys,
    writer: DeliveryWriter,
    @Inject(ENV) env: Env,
  ) {
    this.perSource = new MinuteLimit(env.SOURCE_RATE_LIMIT);
    this.group = new GroupCommit({
      commit: (deliveries) => writer.commit(deliveries),
      isOfOneItem: (error) => OF_ONE.test(sqlStateOf(error)) || (error instanceof Error && sqlStateOf(error) === ''),
      mostItems: GROUP_ITEMS,
      mostBytes: GROUP_BYTES,
      lingerMs: LINGER_MS,
    });
  }

  /** The receipt, and how long the delivery waited for its turn [ms]. */
  async receive(request: IncomingRequest): Promise<{ receipt: DeliveryReceipt; waitedMs: number }> {
    if (this.pace.load + this.group.load > MOST_WAITING_BYTES) {
      throw new AppError('service.unavailable', { detail: 'Too much waits to be written.', retryAfterS: 5 });
    }
    await this.pace.turn(request.body.length);
    const now = Date.now();
    const arrivedMs = performance.now();
    const { keys, headers } = await this.admit(request, now);
    const wait = this.perSource.take(request.sourceId, now);
    if (wait > 0) throw new AppError('request.too_many', { retryAfterS: wait });
    // It may have come out of the archive a moment ago, in another process.
    if (keys.isArchived && (await this.findSource(request.sourceId, arrivedMs)).isArchived) {
      throw new AppError('source.gone');
    }
    const delivery = this.read(request, keys, headers, now);
    const { result, waitedMs } = await this.commit(delivery, request.body.length);
    if (result.isGone === true) {
      // Those that come next are refused before they are read.
      await this.findSource(request.sourceId, performance.now());
      throw new AppError('source.gone');
    }
    return { receipt: toReceipt(delivery, result), waitedMs };
  }

  /** Everything accepted is written before the connections close. */
  async beforeApplicationShutdown(): Promise<void> {
    await this.group.rest();
  }

  /** Who sends. A secret that was made a moment ago, here or in another process, is looked for before anybody is turned away. */
  private async admit(
    request: IncomingRequest,
    now: number,
  ): Promise<{ keys: KeysOfSource; headers: SignatureHeaders }> {
    const arrivedMs = performance.now();
    const headers = readSignatureHeaders(request.headers);
    let keys = await this.findSource(request.sourceId, -Infinity);
    if (headers === null) {
      throw this.refusal(
        request,
        now,
        'webhook-id, webhook-timestamp and webhook-signature are needed, each in its form.',
      );
    }
    if (!isSignedBy(keys, headers, request, now)) {
      const refused = this.refusal(request, now, 'No signature in the list fits a secret of this source.');
      if (refused.code !== 'source.signature') throw refused;
      keys = await this.findSource(request.sourceId, arrivedMs);
      if (!isSignedBy(keys, headers, request, now)) throw refused;
    }
    // After the signature: only who holds the secret learns about our clock.
    if (!isWithinTolerance(headers.timestampS, now)) {
      const detail = 'webhook-timestamp is more than five minutes from our time: sign each attempt anew.';
      throw this.refusal(request, now, detail);
    }
    return { keys, headers };
  }

  /** @param readAfterMs what was read of its secrets before is not good enough */
  private async findSource(sourceId: string, readAfterMs: number): Promise<KeysOfSource> {
    const keys = await this.keys.find(sourceId, readAfterMs).catch((error: unknown) => {
      throw this.asUnavailable(error);
    });
    if (keys === null) throw notFound();
    return keys;
  }

  private refusal({ sourceId, address }: IncomingRequest, now: number, detail: string): AppError {
    const wait = this.wrong.take(`${sourceId} ${address}`, now);
    return wait > 0
      ? new AppError('request.too_many', { retryAfterS: wait })
      : new AppError('source.signature', { detail });
  }

  private read(request: IncomingRequest, keys: KeysOfSource, headers: SignatureHeaders, now: number): Delivery {
    try {
      const envelope = readEnvelope(
        {
          webhookId: headers.id,
          sentAt: iso(headers.timestampS * 1000),
          contentType: request.contentType,
          headers: request.headers,
        },
        parseStrictJson(request.body),
      );
      return {
        organisationId: keys.organisationId,
        sourceId: request.sourceId,
        webhookId: envelope.deliveryId,
        bodySha256: createHash('sha256').update(request.body).digest(),
        body: request.body,
        clockOffsetS: headers.timestampS - now / 1000,
        ...readDelivery(envelope, now),
      };
    } catch (error) {
      if (error instanceof JsonFaultError) throw new AppError('request.malformed', { detail: error.detail });
      if (!(error instanceof EnvelopeError)) throw error;
      const got = (JSON.stringify(error.got) ?? 'nothing').slice(0, 120);
      const field = error.pointer.slice(1).replaceAll('/', '.');
      throw new AppError('request.invalid', {
        detail: `${field || 'The body'}: needs ${error.needs}.`,
        errors: [{ pointer: error.pointer, field, got, needs: error.needs, code: 'envelope' }],
      });
    }
  }

  private async commit(delivery: Delivery, bytes: number): Promise<Committed<Outcome>> {
    try {
      return await this.group.submit(delivery, bytes);
    } catch (error) {
      throw this.asUnavailable(error);
    }
  }

  /** Nothing was acknowledged: the gateway keeps its delivery and sends it again. */
  private asUnavailable(error: unknown): AppError {
    if (error instanceof AppError) return error;
    this.log.warn(`a delivery waits for another attempt: ${error instanceof Error ? error.message : String(error)}`);
    return isDiskFull(error)
      ? new AppError('service.full', { detail: 'There is no room left. Nothing was taken in.', retryAfterS: 60 })
      : new AppError('service.unavailable', { detail: 'It cannot be written just now.', retryAfterS: 5 });
  }
}

/** Over the bytes as they came, or over the text that a sender signed before its library packed it. */
function isSignedBy(
  keys: KeysOfSource,
  headers: SignatureHeaders,
  { sent, body }: IncomingRequest,
  now: number,
): boolean {
  const live = keys.secrets.filter(({ expiresAtMs }) => expiresAtMs > now).map(({ key }) => key);
  return isSigned(headers, sent, live) || (sent !== body && isSigned(headers, body, live));
}

function toReceipt({ webhookId }: Delivery, { isDuplicate, intervals, findings }: Outcome): DeliveryReceipt {
  const kinds: Partial<Record<FindingKind, number>> = {};
  for (const kind of findings) kinds[kind] = (kinds[kind] ?? 0) + 1;
  return { webhookId, duplicate: isDuplicate, intervals, findings: findings.length, kinds };
}
