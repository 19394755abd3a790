import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';

export interface ReadMessage {
  subject: string;
  text: string;
  /** what stands behind the # of its link */
  token: string;
}

const LONGEST_MS = 2_000;
const decode = (text: string): string =>
  text
    .replace(/=\r?\n/g, '')
    .replace(/=([0-9A-F]{2})/g, (_whole, hex: string) => String.fromCharCode(parseInt(hex, 16)));

function read(file: string): ReadMessage & { to: string } {
  const raw = fs.readFileSync(file, 'latin1');
  const [head = '', ...rest] = raw.split(/\r?\n\r?\n/);
  const header = (name: string): string => new RegExp(`^${name}: (.*)$`, 'im').exec(head)?.[1]?.trim() ?? '';
  const body = rest.join('\n\n');
  const text = /quoted-printable/i.test(header('Content-Transfer-Encoding')) ? decode(body) : body;
  return {
    to: header('To'),
    subject: header('Subject'),
    text,
    token: /#([A-Za-z0-9_-]{43})/.exec(text)?.[1] ?? '',
  };
}

/** The messages that were written for an address, the oldest first; waits a moment for the first one. */
export async function readMessages(folder: string, email: string, subject?: string): Promise<ReadMessage[]> {
  const began = Date.now();
  for (;;) {
    const files = fs.existsSync(folder) ? fs.readdirSync(folder).sort() : [];
    const found = files
      .map((name) => read(path.join(folder, name)))
      .filter((message) => message.to === email && (subject === undefined || message.subject === subject));
    if (found.length > 0 || Date.now() - began > LONGEST_MS) return found;
    await delay(20);
  }
}
