type Header = string | string[] | undefined;

/** What a delivery says, whichever envelope it came in. */
export interface Envelope {
  /** what a repetition is known by */
  readonly deliveryId: string;
  readonly type: unknown;
  readonly timestamp: unknown;
  /** where the time stands in what was sent */
  readonly timePointer: string;
  readonly data: unknown;
}

export class EnvelopeError extends Error {
  constructor(
    readonly pointer: string,
    readonly needs: string,
    readonly got: unknown,
  ) {
    super(`${pointer}: needs ${needs}`);
    this.name = 'EnvelopeError';
  }
}

export const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const LONGEST = 300;

function needText(value: unknown, pointer: string): string {
  if (typeof value !== 'string' || value === '' || value.length > LONGEST) {
    throw new EnvelopeError(pointer, `a text of 1 to ${LONGEST} characters`, value);
  }
  return value;
}

/** What a delivery of counts is called; in a CloudEvent the sender's domain stands before it, the other way round. */
const COUNTS = 'alarm.counts';
const typeOf = (type: string): string => (type.endsWith(`.${COUNTS}`) ? COUNTS : type);

/**
 * CloudEvents 1.0: source and id together are unique per event. Written as JSON so that no two pairs look alike. Its time may be left
 * out: then it is when it was signed.
 */
function fromAttributes(attributes: Record<string, unknown>, data: unknown, sentAt: string): Envelope {
  if (attributes.specversion !== '1.0') throw new EnvelopeError('/specversion', '1.0', attributes.specversion);
  const id = needText(attributes.id, '/id');
  const source = needText(attributes.source, '/source');
  // The list itself, or the whole of what a plain delivery would be.
  const inner = isRecord(data) && 'data' in data ? data : null;
  return {
    deliveryId: JSON.stringify([source, id]),
    type: typeOf(needText(attributes.type, '/type')),
    timestamp: attributes.time ?? inner?.timestamp ?? sentAt,
    timePointer: attributes.time == null ? '/data/timestamp' : '/time',
    data: inner === null ? data : inner.data,
  };
}

function decodeHeader(value: string): string {
  try {
    return decodeURIComponent(value);
  } catch (error) {
    if (error instanceof URIError) throw new EnvelopeError('ce-*', 'percent-encoding that can be read', value);
    throw error;
  }
}

/** A plain delivery, or a CloudEvent in structured or binary mode, by content type and headers. */
export function readEnvelope(
  input: { webhookId: string; sentAt: string; contentType: string; headers: Readonly<Record<string, Header>> },
  body: unknown,
): Envelope {
  if (input.contentType === 'application/cloudevents+json') {
    if (!isRecord(body)) throw new EnvelopeError('', 'an object', body);
    if ('data_base64' in body) throw new EnvelopeError('/data_base64', 'data as JSON, in `data`', '…');
    return fromAttributes(body, body.data, input.sentAt);
  }
  if (input.headers['ce-specversion'] !== undefined) {
    const attributes: Record<string, unknown> = {};
    for (const name of ['specversion', 'id', 'source', 'type', 'time']) {
      const value = input.headers[`ce-${name}`];
      if (typeof value === 'string') attributes[name] = decodeHeader(value);
    }
    return fromAttributes(attributes, body, input.sentAt);
  }
  if (!isRecord(body)) throw new EnvelopeError('', 'an object', body);
  const { type, timestamp, data } = body;
  return { deliveryId: input.webhookId, type, timestamp, timePointer: '/timestamp', data };
}
