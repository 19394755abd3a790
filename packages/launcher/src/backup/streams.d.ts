/** The parts used here of two packages that describe no types. */
declare module 'pg-copy-streams' {
  import type { Readable, Writable } from 'node:stream';
  import type { Submittable } from 'pg';
  export function to(text: string): Readable & Submittable & { rowCount: number };
  export function from(text: string): Writable & Submittable & { rowCount: number };
}

declare module 'tar-stream' {
  interface Header {
    name: string;
    size: number;
    mtime?: Date;
  }
  interface Sink {
    end(bytes: Uint8Array): void;
  }
  interface Pack extends AsyncIterable<Uint8Array> {
    entry(header: Header, done: (error?: Error | null) => void): Sink;
    finalize(): void;
    on(event: 'close' | 'error', listener: () => void): void;
    destroy(error?: Error): void;
  }
  interface Entry extends AsyncIterable<Uint8Array> {
    header: Header;
  }
  interface Extract extends AsyncIterable<Entry> {
    write(bytes: Uint8Array): boolean;
    end(): void;
    destroy(error?: Error): void;
    on(event: 'drain' | 'close', listener: () => void): void;
    destroyed: boolean;
  }
  export function pack(): Pack;
  export function extract(): Extract;
}
