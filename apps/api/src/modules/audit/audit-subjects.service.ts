import { Injectable } from '@nestjs/common';
import type { Subject } from '@repo/contracts';
import { AuditSubjectsRepository } from './audit-subjects.repository.js';

const ID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** Ids of records that were said, however deep. */
const mentionedIn = (said: unknown): string[] =>
  typeof said === 'string' && ID.test(said)
    ? [said]
    : typeof said === 'object' && said !== null
      ? Object.values(said).flatMap(mentionedIn)
      : [];

/** What was done to which record. */
interface Done {
  entityId: string;
  changes: Readonly<Record<string, unknown>>;
}
interface Named {
  subject: Subject | null;
  /** names of the records that the changes mention, by their ids */
  names: Record<string, string>;
}

/** Says of what was done how the record is called, and all that the changes mention. */
@Injectable()
export class AuditSubjectsService {
  constructor(private readonly repository: AuditSubjectsRepository) {}

  async nameAll<T extends Done>(all: readonly T[]): Promise<(T & Named)[]> {
    const ids = new Set(all.flatMap(({ entityId, changes }) => [entityId, ...mentionedIn(changes)]));
    if (ids.size === 0) return [];
    const subjects = new Map((await this.repository.find([...ids])).map((subject) => [subject.id, subject]));
    return all.map((done) => {
      const { entityId, changes } = done;
      // What is there no more is known by the circuit that it was of.
      const subject = subjects.get(entityId) ?? subjects.get(String(changes['circuitId']));
      const names = mentionedIn(changes).flatMap((id): [string, string][] => {
        const name = subjects.get(id)?.name;
        return name === undefined ? [] : [[id, name]];
      });
      return {
        ...done,
        subject:
          subject === undefined
            ? null
            : { name: subject.name, machineId: subject.machine_id, machineName: subject.machine_name },
        names: Object.fromEntries(names),
      };
    });
  }
}
