import { isDeepStrictEqual } from 'node:util';
import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import {
  insertIssues,
  lockKeys,
  readStates,
  updateEvidence,
  type DoorPlace,
  type DoorState,
  type NewIssue,
} from './issue-door.repository.js';
import type { IssueOrigin } from './issue-origins.js';
import { titleText, type IssueTitle } from './issue-titles.js';

/** How often somebody else may get in between the look and the writing. */
const ROUNDS = 5;

/** Where something is to be looked at, known by its key, or else by where it is. */
export type Place =
  | { readonly circuitId: string; readonly key?: string }
  | { readonly machineId: string; readonly key?: string }
  | { readonly customerId: string; readonly key: string };

/** What a part of the product has to say about a place. */
export interface IssueOpening {
  readonly key: string;
  /** of a new issue; one that is open keeps its own */
  readonly title: IssueTitle;
  /** all of it: what an open issue had, and what is added */
  readonly evidence: Readonly<Record<string, unknown>>;
  /** why it is opened, for the audit trail */
  readonly because: Readonly<Record<string, unknown>>;
  /** in whose name a new issue is opened */
  readonly openedBy: string;
  readonly openedByName: string;
}

/** Looks at what is open at the places and says what is to be opened or added; places that it leaves out stay as they are. */
export type Decide = (states: readonly DoorState[]) => Promise<readonly IssueOpening[]>;

/**
 * The one door through which parts of the product open issues. An issue is known by its origin and its key: while it is open, opening
 * it again adds evidence. Many are looked at and written together, in the caller's transaction.
 */
@Injectable()
export class IssueDoor {
  async open(
    sql: SqlTransaction,
    organisationId: string,
    { origin, places }: { origin: IssueOrigin; places: readonly Place[] },
    decide: Decide,
  ): Promise<void> {
    let left: readonly DoorPlace[] = places.map(toDoorPlace);
    for (let round = 0; left.length > 0; round += 1) {
      if (round === ROUNDS) throw new Error(`issues of ${origin} were changed by others ${ROUNDS} times over`);
      const states = new Map((await readStates(sql, organisationId, origin, left)).map((state) => [state.key, state]));
      const openings = states.size === 0 ? [] : await decide([...states.values()]);
      const late = await this.write(sql, organisationId, origin, states, openings);
      left = left.filter(({ key }) => late.has(key));
    }
  }

  /** The keys at which somebody else was quicker. */
  private async write(
    sql: SqlTransaction,
    organisationId: string,
    origin: IssueOrigin,
    states: ReadonlyMap<string, DoorState>,
    openings: readonly IssueOpening[],
  ): Promise<Set<string>> {
    const fresh: NewIssue[] = [];
    const grown: { id: string; version: number; evidence: unknown; key: string }[] = [];
    for (const { key, evidence, because, title: about, openedBy, openedByName } of openings) {
      const state = states.get(key);
      if (state === undefined) throw new Error('an issue is opened at a place that nobody looked at');
      if (state.openId === null) {
        const { customerId, machineId, circuitId } = state;
        const title = titleText(about);
        const auditChanges = { title, ...because };
        const ids = { id: uuidv7(), auditId: uuidv7() };
        fresh.push({
          ...ids,
          customerId,
          machineId,
          circuitId,
          key,
          title,
          evidence,
          openedBy,
          openedByName,
          auditChanges,
        });
      } else if (!isDeepStrictEqual(state.evidence, evidence)) {
        grown.push({ id: state.openId, version: state.version ?? 0, evidence, key });
      }
    }
    const late = new Set<string>();
    if (fresh.length > 0) {
      await lockKeys(
        sql,
        organisationId,
        fresh.map(({ key }) => key),
      );
      const opened = await insertIssues(sql, organisationId, origin, fresh);
      for (const { id, key } of fresh) if (!opened.has(id)) late.add(key);
    }
    if (grown.length > 0) {
      const written = await updateEvidence(sql, organisationId, grown);
      for (const { id, key } of grown) if (!written.has(id)) late.add(key);
    }
    return late;
  }
}

function toDoorPlace(place: Place): DoorPlace {
  const nowhere = { circuitId: null, machineId: null, customerId: null };
  if ('circuitId' in place) return { ...nowhere, circuitId: place.circuitId, key: place.key ?? place.circuitId };
  if ('machineId' in place) return { ...nowhere, machineId: place.machineId, key: place.key ?? place.machineId };
  return { ...nowhere, customerId: place.customerId, key: place.key };
}
