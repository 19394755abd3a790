import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';

/** A program that starts a server and then waits to be killed: `start-and-hang.mjs FOLDER`. */
const dataDir = process.argv[2];
if (dataDir === undefined) throw new Error('Usage: start-and-hang.mjs FOLDER');
const { pid, port } = await startEmbeddedPostgres({ dataDir });
console.log(JSON.stringify({ pid, port }));
setInterval(() => undefined, 60_000);
