import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** The root of the checkout. */
export const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../../..');

/** Prisma's migrations. */
export const MIGRATIONS = path.join(ROOT, 'prisma', 'migrations');
