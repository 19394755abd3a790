import { Injectable, type OnApplicationBootstrap } from '@nestjs/common';
import type { SilenceEvidence } from '@repo/contracts';
import { isOfSilence, issueEvidence } from '../../documents/issue-evidence.js';
import { Rounds } from '../../platform/rounds/index.js';
import { IssueDoor, type DoorState, type IssueOpening, type Place } from '../issues/index.js';
import { isGatewaySilent, judgeSilence, type Judged, type MachineHearing } from './silence.js';
import { SilencesRepository } from './silences.repository.js';

/** Machines of one transaction. */
const AT_ONCE = 200;
/** Of an issue's evidence so many silences are kept, the latest. */
const MOST_SILENCES = 50;

const iso = (ms: number): string => new Date(ms).toISOString();
const dateOrNull = (ms: number | null): Date | null => (ms === null ? null : new Date(ms));

interface Silence {
  readonly hearing: MachineHearing;
  readonly judged: Judged;
}

/** Finds machines and gateways that have stopped reporting, marks them, and opens an issue by the rule of their source. */
@Injectable()
export class SilenceKeeper implements OnApplicationBootstrap {
  constructor(
    private readonly rounds: Rounds,
    private readonly repository: SilencesRepository,
    private readonly door: IssueDoor,
  ) {}

  onApplicationBootstrap(): void {
    this.rounds.begin('silent machines', () => this.lookAtSome());
  }

  private async lookAtSome(): Promise<boolean> {
    const nowMs = Date.now();
    const looked = (await this.repository.listDue(AT_ONCE)).map((hearing) => ({
      hearing,
      judged: judgeSilence(hearing, nowMs),
    }));
    if (looked.length === 0) return false;
    await this.repository.keep(
      looked.map(({ hearing, judged }) => ({
        machineId: hearing.machineId,
        reportedUntil: dateOrNull(hearing.reportedUntilMs),
        silentSince: dateOrNull(judged.silentSinceMs),
        isTold: judged.isTold,
        dueAt: new Date(judged.dueAtMs),
      })),
    );
    await this.tell(looked, nowMs);
    return looked.length === AT_ONCE;
  }

  private async tell(looked: readonly Silence[], nowMs: number): Promise<void> {
    const places = new Map<string, IssuePlace>();
    for (const silence of looked) for (const found of placesOf(silence)) places.set(keyOf(found.place), found);
    if (places.size === 0) return;
    const { organisationId } = this.repository;
    const at = { origin: 'silence', places: [...places.values()].map(({ place }) => place) } as const;
    await this.door.open(this.repository.sql, organisationId, at, (states) =>
      Promise.resolve(states.flatMap((state) => openingOf(state, places.get(state.key), nowMs))),
    );
  }
}

/** Where an issue is opened or ended, by the machine that was looked at. */
interface IssuePlace {
  readonly place: Place;
  readonly silence: Silence;
  readonly isOver: boolean;
}

const keyOf = (place: Place): string => place.key ?? ('machineId' in place ? place.machineId : '');

function placesOf(silence: Silence): IssuePlace[] {
  const { machineId, customerId, source } = silence.hearing;
  return silence.judged.issues.flatMap(({ about, isOver }): IssuePlace[] => {
    if (about === 'machine') return [{ place: { machineId }, silence, isOver }];
    return source === null ? [] : [{ place: { customerId, key: `${source.id} ${customerId}` }, silence, isOver }];
  });
}

function openingOf(state: DoorState, issuePlace: IssuePlace | undefined, nowMs: number): IssueOpening[] {
  if (issuePlace === undefined) return [];
  const { hearing, judged } = issuePlace.silence;
  const { source } = hearing;
  const stored = state.openId === null ? null : issueEvidence.readOrNull(state.evidence);
  const before = isOfSilence(stored) ? stored : null;
  const silences = before?.silences ?? [];
  const last = silences.at(-1);
  const isOfMachine = state.machineId !== null;
  if (issuePlace.isOver) {
    if (before === null || last === undefined || last.until !== null) return [];
    if (!isOfMachine && (source === null || isStillSilent(source, Date.parse(last.since), nowMs))) return [];
    const ended = [...silences.slice(0, -1), { ...last, until: iso(nowMs) }];
    return [toOpening(state, { ...before, silences: ended })];
  }
  if (source === null) return [];
  const sinceMs = isOfMachine ? (judged.silentSinceMs ?? nowMs) : source.heardAtMs;
  // What was closed by a person does not open again by the same silence.
  if (state.openId === null && state.closedAtMs !== null && sinceMs <= state.closedAtMs) return [];
  if (last?.until === null) return [];
  const { id: sourceId, name: sourceName, silentAfterS } = source;
  const all = [...silences, { since: iso(sinceMs), until: null }].slice(-MOST_SILENCES);
  return [toOpening(state, { sourceId, sourceName, silentAfterS, silences: all })];
}

/** A machine may be looked at for other reasons than that its gateway was heard. */
const isStillSilent = (source: NonNullable<MachineHearing['source']>, sinceMs: number, nowMs: number): boolean =>
  source.heardAtMs <= sinceMs && isGatewaySilent(source, nowMs);

function toOpening({ key, machineId, machineName }: DoorState, evidence: SilenceEvidence): IssueOpening {
  const { sourceId, sourceName, silentAfterS } = evidence;
  return {
    key,
    title: { code: 'silent', parameters: { machineName: machineId === null ? null : machineName, sourceName } },
    evidence: { ...evidence },
    because: { silentAfterS, sourceName },
    openedBy: sourceId,
    openedByName: sourceName,
  };
}
