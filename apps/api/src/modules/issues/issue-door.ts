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
} from './issue-door.repository.js';
import { ORIGINS, type IssueOrigin, type OriginMark } from './issue-origins.js';
import { titleText, type IssueTitle } from './issue-titles.js';

/** How often somebody else may get in between the look and the writing. */
const ROUNDS = 5;

/** What a part of the product has to say about a place. */
export interface IssueOpening {
  readonly circuitId: string;
  readonly key: string;
  /** of a new issue; one that is open keeps its own */
  readonly title: IssueTitle;
  /** all of it: what an open issue had, and what is added */
  readonly evidence: Readonly<Record<string, unknown>>;
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
    { origin, places }: { origin: IssueOrigin; places: readonly { circuitId: string; key?: string }[] },
    decide: Decide,
  ): Promise<void> {
    const mark = ORIGINS[origin];
    let left: DoorPlace[] = places.map(({ circuitId, key = circuitId }) => ({ circuitId, key }));
    for (let round = 0; left.length > 0; round += 1) {
      if (round === ROUNDS) throw new Error(`issues of ${origin} were changed by others ${ROUNDS} times over`);
      const states = new Map(
        (await readStates(sql, organisationId, mark, left)).map((state) => [placeKey(state), state]),
      );
      const openings = states.size === 0 ? [] : await decide([...states.values()]);
      left = await this.write(sql, organisationId, mark, states, openings);
    }
  }

  /** The places at which somebody else was quicker. */
  private async write(
    sql: SqlTransaction,
    organisationId: string,
    mark: OriginMark,
    states: ReadonlyMap<string, DoorState>,
    openings: readonly IssueOpening[],
  ): Promise<DoorPlace[]> {
    const fresh: (Parameters<typeof insertIssues>[3][number] & DoorPlace)[] = [];
    const grown: { id: string; version: number; evidence: unknown; place: DoorPlace }[] = [];
    for (const opening of openings) {
      const state = states.get(placeKey(opening));
      if (state === undefined) throw new Error('an issue is opened at a place that nobody looked at');
      const { circuitId, key } = state;
      const evidence = key === circuitId ? opening.evidence : { ...opening.evidence, key };
      if (state.openId === null) {
        const { customerId, machineId } = state;
        const title = titleText(opening.title);
        const { openedBy, openedByName } = opening;
        const auditChanges = { title, [mark.entry]: evidence[mark.entry] };
        const ids = { id: uuidv7(), auditId: uuidv7() };
        const place = { customerId, machineId, circuitId, key };
        fresh.push({ ...ids, ...place, title, evidence, openedBy, openedByName, auditChanges });
      } else if (!isDeepStrictEqual(state.evidence, evidence)) {
        grown.push({ id: state.openId, version: state.version ?? 0, evidence, place: state });
      }
    }
    const late: DoorPlace[] = [];
    if (fresh.length > 0) {
      await lockKeys(
        sql,
        organisationId,
        fresh.map(({ key }) => key),
      );
      const opened = await insertIssues(sql, organisationId, mark, fresh);
      late.push(...fresh.filter(({ id }) => !opened.has(id)));
    }
    if (grown.length > 0) {
      const written = await updateEvidence(sql, organisationId, grown);
      late.push(...grown.filter(({ id }) => !written.has(id)).map(({ place }) => place));
    }
    return late;
  }
}

const placeKey = ({ circuitId, key }: DoorPlace): string => `${circuitId} ${key}`;
