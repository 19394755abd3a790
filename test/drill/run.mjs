import { drillBackup } from './backup.mjs';
import { drillDiskFull } from './disk-full.mjs';
import { drillFuzz } from './fuzz.mjs';
import { drillIngest } from './ingest.mjs';
import { drillLive } from './live.mjs';

const runs = Number(process.argv[2] ?? 200);
const seed = Number(process.argv[3] ?? 1);
const FUZZED = 50_000;
const began = performance.now();
const tell = (/** @type {string} */ text) => void process.stdout.write(`${text}\n`);
await drillFuzz({ requests: FUZZED, seed, tell });
await drillBackup(tell);
await drillDiskFull(tell);
await drillLive(tell);
const total = await drillIngest({ runs, seed, tell });
const minutes = ((performance.now() - began) / 60_000).toFixed(1);
process.stdout.write(
  `${runs} runs with seed ${seed} in ${minutes} min: ${total.deliveries} deliveries in ${total.attempts} attempts through ${total.kills} kills; ` +
    `${total.rows} reports, ${total.findings} findings, none lost, none twice\n`,
);
