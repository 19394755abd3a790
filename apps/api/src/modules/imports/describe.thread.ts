import type { ImportReading } from '@repo/contracts';
import { unpackSheets } from '../../platform/sheets/index.js';
import { describeFile } from './describe-file.js';

/** A packed file, and the rows of its headings where they are known. */
export interface Undescribed {
  packed: Uint8Array;
  headerRows?: (number | undefined)[];
}
export interface Described {
  reading: ImportReading;
  fingerprint: string;
}

/** Looks at a whole file, for a thread or a process of its own: millions of cells would hold up everything else. */
export default function describeInThread({ packed, headerRows }: Undescribed): Described {
  return describeFile(unpackSheets(packed), headerRows);
}
