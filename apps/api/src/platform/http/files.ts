import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { AppError } from '../errors/app-error.js';

/** The largest file that is taken, bytes. */
export const LARGEST_UPLOAD = 32 * 1024 * 1024;
const MEDIA_TYPE = 'application/octet-stream';

/** What a handler of a download gives. */
export interface DownloadedFile {
  /** what does not fit into memory comes as a stream */
  bytes: Uint8Array | Readable;
  mediaType: string;
  fileName: string;
}

/** Leaves the bytes of an upload unread until the guard knows who sends them. */
export function takeUploads(app: FastifyInstance): void {
  app.addContentTypeParser(MEDIA_TYPE, { bodyLimit: LARGEST_UPLOAD }, (_request, payload, done) => done(null, payload));
}

/** Whether a body of this type is kept unread. */
export const isUploadType = (contentType: string | undefined): boolean => contentType?.startsWith(MEDIA_TYPE) === true;

export const isUpload = (request: FastifyRequest): boolean => request.body instanceof Readable;

/** The whole body, before any transaction begins: a slow sender holds no connection of the database. */
export async function readUpload(request: FastifyRequest): Promise<Uint8Array> {
  const stream = request.body;
  if (!(stream instanceof Readable)) throw new AppError('request.media_type');
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of stream) {
    const bytes = part as Buffer;
    size += bytes.length;
    if (size > LARGEST_UPLOAD) throw new AppError('request.too_large', { detail: 'A file may have 32 MiB at most.' });
    parts.push(bytes);
  }
  return Buffer.concat(parts);
}

/** RFC 6266: an ASCII name for old readers, the real one beside it. */
export function sendFile(reply: FastifyReply, { bytes, mediaType, fileName }: DownloadedFile): Buffer | Readable {
  const plain = fileName.replaceAll(/[^\w. -]/g, '_');
  reply
    .code(200)
    .header('cache-control', 'no-store')
    .header('content-disposition', `attachment; filename="${plain}"; filename*=UTF-8''${encodeURIComponent(fileName)}`)
    .type(mediaType);
  return bytes instanceof Readable ? bytes : Buffer.from(bytes);
}
