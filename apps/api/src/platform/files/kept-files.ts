import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { Db } from '../db/db.js';

/** Where the bytes are: beside the rows, so that they are committed, secured and backed up with them. */
const IN_DATABASE = 'database';

/** Files that belong to an organisation. Bytes lie in the database: no folder that several processes would have to share. */
@Injectable()
export class KeptFiles {
  constructor(private readonly db: Db) {}

  /** Keeps bytes in the running transaction; the id of the file. */
  async put(file: { name: string; mediaType: string; bytes: Uint8Array }): Promise<string> {
    const { tx, actor } = this.db.current;
    const { organisationId } = actor;
    const id = uuidv7();
    const bytes = Buffer.from(file.bytes);
    await tx.file.create({
      data: {
        organisationId,
        id,
        name: file.name,
        mediaType: file.mediaType,
        sizeBytes: bytes.length,
        sha256: createHash('sha256').update(bytes).digest(),
        storageKey: IN_DATABASE,
        createdBy: actor.membershipId,
      },
    });
    await tx.fileContent.create({ data: { organisationId, fileId: id, bytes } });
    return id;
  }

  /** The bytes; null when there is no such file here. */
  async get(id: string): Promise<Uint8Array | null> {
    const { tx, actor } = this.db.current;
    const key = { organisationId_fileId: { organisationId: actor.organisationId, fileId: id } };
    const content = await tx.fileContent.findUnique({ where: key });
    return content?.bytes ?? null;
  }
}
