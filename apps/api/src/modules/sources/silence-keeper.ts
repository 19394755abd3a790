import { Injectable, type OnApplicationBootstrap } from '@nestjs/common';
import type { SilenceEvidence } from '@repo/contracts';
import { isOfSilence, issueEvidence } from '../../documents/issue-evidence.js';
import { Rounds } from '../../platform/rounds/index.js';
import { IssueDoor, type DoorState, type IssueOpening, type Place } from '../issues/index.js';
import { judgeSilence, type Judged, type MachineHearing } from './silence.js';
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
    const places = new Map<string, { place: Place; silence: Silence }>();
    for (const silence of looked.filter(({ judged }) => judged.issue !== null))
      for (const place of placesOf(silence)) places.set(keyOf(place), { place, silence });
    if (places.size === 0) return;
    const { organisationId } = this.repository;
    const at = { origin: 'silence', places: [...places.values()].map(({ place }) => place) } as const;
    await this.door.open(this.repository.sql, organisationId, at, (states) =>
      Promise.resolve(states.flatMap((state) => openingOf(state, places.get(state.key)?.silence, nowMs))),
    );
  }
}

const keyOf = (place: Place): string => place.key ?? ('machineId' in place ? place.machineId : '');

/** A silence that is over may have been told of the machine or of its gateway. */
function placesOf({ hearing: { machineId, customerId, source }, judged }: Silence): Place[] {
  const ofMachine = { machineId };
  const ofSource = source === null ? [] : [{ customerId, key: `${source.id} ${customerId}` }];
  if (judged.issue?.isOver === true) return [ofMachine, ...ofSource];
  return judged.issue?.about === 'source' ? ofSource : [ofMachine];
}

function openingOf(state: DoorState, silence: Silence | undefined, nowMs: number): IssueOpening[] {
  const source = silence?.hearing.source ?? null;
  const stored = state.openId === null ? null : issueEvidence.readOrNull(state.evidence);
  const before = isOfSilence(stored) ? stored : null;
  const silences = before?.silences ?? [];
  const last = silences.at(-1);
  if (silence?.judged.issue?.isOver === true) {
    if (before === null || last === undefined || last.until !== null) return [];
    const ended = [...silences.slice(0, -1), { ...last, until: iso(nowMs) }];
    return [toOpening(state, { ...before, silences: ended })];
  }
  if (silence === undefined || source === null) return [];
  const sinceMs = state.machineId === null ? source.heardAtMs : (silence.judged.silentSinceMs ?? nowMs);
  // What was closed by a person does not open again by the same silence.
  if (state.openId === null && state.closedAtMs !== null && sinceMs <= state.closedAtMs) return [];
  if (last?.until === null) return [];
  const { id: sourceId, name: sourceName, silentAfterS } = source;
  const all = [...silences, { since: iso(sinceMs), until: null }].slice(-MOST_SILENCES);
  return [toOpening(state, { sourceId, sourceName, silentAfterS, silences: all })];
}

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
