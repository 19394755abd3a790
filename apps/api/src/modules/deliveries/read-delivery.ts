import { hash } from 'node:crypto';
import { AHEAD_S, ALARM_KIND, LARGEST_COUNT, LONGEST_INTERVAL_S, OLDEST_S, type FindingKind } from '@repo/contracts';
import { iso } from '../../platform/clock/iso.js';
import { EnvelopeError, isRecord, type Envelope } from './cloud-event.js';

/** One interval as a gateway reports it, read and found possible. */
export interface Reported {
  /** which entry of `data[]` it came in */
  readonly item: number;
  readonly machine: string;
  readonly circuit: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly revision: number;
  readonly clampCycles: number;
  /** JSON text with sorted keys and without zeros: the same numbers are the same text */
  readonly alarms: string;
  readonly measures: string | null;
  readonly numbersHash: string;
  /** as it came, for a finding that keeps it */
  readonly raw: unknown;
}

/** What cannot be taken as it is: kept for a person. */
export interface SetAside {
  readonly kind: FindingKind;
  /** entry of `data[]` */
  readonly item: number;
  readonly subject: string;
  readonly machine: string;
  /** the part of the body, as an entry of `data[]` would be */
  readonly part: unknown;
  /** how many intervals it holds */
  readonly intervals: number;
}

export interface ReadDelivery {
  readonly sentAtMs: number;
  readonly reported: readonly Reported[];
  readonly aside: readonly SetAside[];
}

const MOST_ITEMS = 10_000;
const MOST_KINDS = 100;
const LARGEST_REVISION = 2_147_483_647;
const LONGEST_NAME = 200;
const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,9})?(Z|[+-]\d\d:\d\d)$/;

/** One interval begins where the one before ended. */
let lastInstant = { text: '', ms: NaN };

/** Milliseconds of an RFC 3339 instant; NaN for anything else, also for a day that is not in the calendar. */
export function instantMs(value: unknown): number {
  if (typeof value !== 'string') return NaN;
  if (value !== lastInstant.text) lastInstant = { text: value, ms: readInstant(value) };
  return lastInstant.ms;
}

function readInstant(value: string): number {
  if (!INSTANT.test(value)) return NaN;
  // Every month has 28 days; the parser lets 30 February pass as 2 March.
  if (value.charAt(8) > '2' || value.startsWith('29', 8)) {
    const day = value.slice(0, 10);
    const dayMs = Date.parse(`${day}T00:00:00Z`);
    if (Number.isNaN(dayMs) || iso(dayMs).slice(0, 10) !== day) return NaN;
  }
  return Date.parse(value);
}

const isCount = (value: unknown): value is number =>
  typeof value === 'number' && Number.isInteger(value) && value >= 0 && value <= LARGEST_COUNT;

const isName = (value: unknown): value is string =>
  typeof value === 'string' && value.trim() !== '' && value.length <= LONGEST_NAME;

/** Names and numbers with sorted names; null when one of them cannot be. Zeros say nothing and are left out on demand. */
function canonical(value: unknown, isRight: (one: unknown) => one is number, keepsZero: boolean): string | null {
  if (!isRecord(value)) return null;
  const names = Object.keys(value);
  if (names.length > MOST_KINDS) return null;
  let text = '';
  for (const name of names.length > 1 ? names.sort() : names) {
    const member = value[name];
    if (!ALARM_KIND.test(name) || !isRight(member)) return null;
    if (member !== 0 || keepsZero) text += `${text === '' ? '' : ','}"${name}":${member}`;
  }
  return `{${text}}`;
}
const isFinite = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);

function periodFault(fromMs: number, toMs: number, nowMs: number): FindingKind | null {
  if (!(toMs > fromMs)) return 'bad-interval';
  if (toMs - fromMs > LONGEST_INTERVAL_S * 1000) return 'interval-too-long';
  if (toMs > nowMs + AHEAD_S * 1000) return 'interval-ahead';
  if (fromMs < nowMs - OLDEST_S * 1000) return 'interval-too-old';
  return null;
}

/** Hashes of numbers that came lately: mostly the same come again, interval after interval. */
const lately = new Map<string, string>();
const MOST_LATELY = 4_096;

function hashOf(numbers: string): string {
  let found = lately.get(numbers);
  if (found === undefined) {
    if (lately.size >= MOST_LATELY) lately.clear();
    found = hash('sha256', numbers, 'buffer').readBigInt64BE().toString();
    // A text that is part of a body would keep the whole body in memory.
    lately.set(Buffer.from(numbers).toString(), found);
  }
  return found;
}

function readInterval(raw: unknown, item: number, machine: string, nowMs: number): Reported | FindingKind {
  if (!isRecord(raw) || !isName(raw.circuit)) return 'bad-item';
  const [fromMs, toMs] = [instantMs(raw.from), instantMs(raw.to)];
  const fault = periodFault(fromMs, toMs, nowMs);
  if (fault !== null) return fault;
  const { revision, clampCycles } = raw;
  if (typeof revision !== 'number' || !Number.isInteger(revision) || revision < 0 || revision > LARGEST_REVISION) {
    return 'bad-revision';
  }
  const alarms = canonical(raw.alarms, isCount, false);
  if (!isCount(clampCycles) || alarms === null) return 'bad-count';
  const measures = raw.measures == null ? null : canonical(raw.measures, isFinite, true);
  if (raw.measures != null && measures === null) return 'bad-measure';
  return {
    item,
    machine,
    circuit: raw.circuit.trim(),
    fromMs,
    toMs,
    revision,
    clampCycles,
    alarms,
    measures,
    numbersHash: hashOf(`${clampCycles}\n${alarms}\n${measures ?? ''}`),
    raw,
  };
}

/** Reads one entry of `data[]`; what is wrong with the same thing in the same way is set aside together. */
export function readItem(
  raw: unknown,
  item: number,
  nowMs: number,
  into: { reported: Reported[]; aside: SetAside[] },
): void {
  if (!isRecord(raw) || !isName(raw.machine) || !Array.isArray(raw.intervals)) {
    into.aside.push({ kind: 'bad-item', item, subject: '', machine: '', part: raw, intervals: 0 });
    return;
  }
  const machine = raw.machine.trim();
  const faults = new Map<FindingKind, unknown[]>();
  for (const interval of raw.intervals as unknown[]) {
    const read = readInterval(interval, item, machine, nowMs);
    if (typeof read !== 'string') into.reported.push(read);
    else if (faults.has(read)) faults.get(read)?.push(interval);
    else faults.set(read, [interval]);
  }
  for (const [kind, intervals] of faults) {
    into.aside.push({
      kind,
      item,
      subject: machine,
      machine,
      part: { machine, intervals },
      intervals: intervals.length,
    });
  }
}

/**
 * Reads a delivery. Only the envelope can be refused; every entry and interval is judged by itself.
 * @throws EnvelopeError
 */
export function readDelivery(envelope: Envelope, nowMs: number): ReadDelivery {
  if (envelope.type !== 'alarm.counts') {
    throw new EnvelopeError('/type', 'alarm.counts (in a CloudEvent also com.example.alarm.counts)', envelope.type);
  }
  const sentAtMs = instantMs(envelope.timestamp);
  if (Number.isNaN(sentAtMs)) {
    throw new EnvelopeError(envelope.timePointer, 'an instant such as 2026-11-25T09:00:00Z', envelope.timestamp);
  }
  return { sentAtMs, ...readData(envelope.data, nowMs) };
}

/** Reads the machines of a delivery, entry by entry. */
export function readData(data: unknown, nowMs: number): Pick<ReadDelivery, 'reported' | 'aside'> {
  if (!Array.isArray(data) || data.length > MOST_ITEMS) {
    throw new EnvelopeError('/data', `a list of at most ${MOST_ITEMS} machines`, data);
  }
  const into = { reported: [] as Reported[], aside: [] as SetAside[] };
  for (const [item, raw] of (data as unknown[]).entries()) readItem(raw, item, nowMs, into);
  return into;
}
