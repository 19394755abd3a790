import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { varyByCoding } from './compression.js';
import { chooseCoding, CODINGS, type Coding } from './content-coding.js';

/** Where pages look for what never changes. */
const AT = '/_next/static/';
/** How a compressed file is called, beside the one it was made of. */
const ENDINGS: Readonly<Record<Coding, string>> = { br: '.br', gzip: '.gz' };
const TYPES: Readonly<Record<string, string>> = {
  '.js': 'application/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
};

interface StaticFile {
  file: string;
  type: string;
  hash: string;
  codings: readonly Coding[];
}

/** Whether a file was compressed of another one that lies beside it. */
const isCompressed = (file: string, all: ReadonlySet<string>): boolean =>
  Object.values(ENDINGS).some((ending) => file.endsWith(ending) && all.has(file.slice(0, -ending.length)));

/** What a build of the pages has written, by address. Only what lay there at the start is ever served: no address leads elsewhere. */
function listFiles(folder: string): ReadonlyMap<string, StaticFile> {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const all = new Set(entries.map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name))));
  return new Map(
    [...all].flatMap((name): [string, StaticFile][] => {
      const type = TYPES[path.extname(name)];
      if (type === undefined || isCompressed(name, all)) return [];
      const file = path.join(folder, name);
      return [
        [
          AT + name.split(path.sep).map(encodeURIComponent).join('/'),
          {
            file,
            type,
            hash: createHash('sha256').update(readFileSync(file)).digest('base64url').slice(0, 22),
            codings: CODINGS.filter((coding) => all.has(name + ENDINGS[coding])),
          },
        ],
      ];
    }),
  );
}

/** Whether the reader has these very bytes. */
function isKnown(request: FastifyRequest, etag: string): boolean {
  const tags = request.headers['if-none-match']?.split(',').map((tag) => tag.trim().replace(/^W\//, '')) ?? [];
  return tags.includes(etag) || tags.includes('*');
}

const readOrNone = (file: string): Promise<Buffer | undefined> => readFile(file).catch(() => undefined);

/** Serves the files that pages load: compressed when they were built, kept by browsers for good. */
export class StaticFiles {
  private readonly files: ReadonlyMap<string, StaticFile>;

  constructor(folder: string) {
    this.files = listFiles(folder);
  }

  /** Answers, if there is such a file; whether it did. Ranges are not taken: the whole file is. */
  async send(request: FastifyRequest, reply: FastifyReply): Promise<boolean> {
    const found = this.files.get(request.url.split('?', 1)[0] ?? '');
    if (found === undefined) return false;
    const coding = chooseCoding(request.headers['accept-encoding'], found.codings);
    // The tag is of the bytes as they are sent.
    const etag = `"${found.hash}${coding === null ? '' : `-${coding}`}"`;
    const bytes = isKnown(request, etag)
      ? null
      : await readOrNone(found.file + (coding === null ? '' : ENDINGS[coding]));
    // A build that is being replaced: the server of pages knows what there is now.
    if (bytes === undefined) return false;
    reply.headers({ etag, 'cache-control': 'public, max-age=31536000, immutable', 'accept-ranges': 'none' });
    if (found.codings.length > 0) varyByCoding(reply);
    if (bytes === null) {
      reply.code(304).send();
      return true;
    }
    if (coding !== null) reply.header('content-encoding', coding);
    reply.type(found.type).send(bytes);
    return true;
  }
}
