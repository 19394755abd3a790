import { randomUUID } from 'node:crypto';
import { hash } from '@node-rs/argon2';
import { withConnection } from '@repo/launcher/connection';
import { findFreePort } from '@repo/launcher/ports';
import { startApiProcess, startDatabase } from '../bench/ingest-world.mjs';
import { measureLive } from './live-under-load.mjs';

const PASSWORD = 'a long drill password 1';
const PEOPLE = 20;
const SECONDS = 30;
const LONGEST_AT_99_MS = 100;

/**
 * Twenty people of four organisations.
 * @param {string} superuserUrl
 */
async function makePeople(superuserUrl) {
  const password = await hash(PASSWORD, { memoryCost: 19_456, timeCost: 2, parallelism: 1 });
  const organisations = Array.from({ length: 4 }, () => randomUUID());
  const emails = Array.from({ length: PEOPLE }, (_, index) => `person-${index}@drill.example`);
  await withConnection(superuserUrl, async (client) => {
    for (const id of organisations) {
      await client.query(`INSERT INTO organisations (id, name, margins_asked) VALUES ($1, 'Drill', '{}')`, [id]);
    }
    for (const [index, email] of emails.entries()) {
      const [userId, organisationId] = [randomUUID(), organisations[index % organisations.length]];
      await client.query(`INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, 'Drill', $3)`, [
        userId,
        email,
        password,
      ]);
      await client.query(
        `INSERT INTO memberships (organisation_id, id, user_id, role, display_name) VALUES ($1, $2, $3, 'engineer', 'Drill')`,
        [organisationId, randomUUID(), userId],
      );
    }
  });
  return emails;
}

/**
 * Twenty people send every calculation at its corners to an API process; `/live` must go on answering.
 * @param {(text: string) => void} tell
 */
export async function drillLive(tell) {
  const db = await startDatabase();
  try {
    const emails = await makePeople(db.superuserUrl);
    const port = await findFreePort();
    const origin = `http://127.0.0.1:${port}`;
    const api = await startApiProcess(db.urls, port);
    try {
      /** @type {string[]} */
      const cookies = [];
      for (const email of emails) {
        const { headers } = await fetch(`${origin}/api/v1/sessions`, {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify({ email, password: PASSWORD }),
        });
        cookies.push(headers.get('set-cookie')?.split(';', 1)[0] ?? '');
      }
      const { statuses, asked, at99Ms, longestMs } = await measureLive({
        origin,
        cookies,
        senders: PEOPLE,
        seconds: SECONDS,
      });
      const answers = Object.entries(statuses).map(([status, count]) => `${count} of ${status}`);
      tell(
        `${PEOPLE} people sent every calculation at its corners for ${SECONDS} s (${answers.join(', ')}): ` +
          `/live, asked ${asked} times, answered within ${at99Ms.toFixed(0)} ms at the 99th percentile, ${longestMs.toFixed(0)} ms at the longest`,
      );
      if (at99Ms >= LONGEST_AT_99_MS) throw new Error(`/live took ${at99Ms.toFixed(0)} ms at the 99th percentile`);
      const odd = Object.keys(statuses).filter((status) => !['200', '413', '422', '429', '503'].includes(status));
      if (odd.length > 0 || (statuses['200'] ?? 0) === 0) throw new Error(`answers: ${answers.join(', ')}`);
    } finally {
      await api.kill('SIGKILL');
    }
  } finally {
    await db.stop();
  }
}
