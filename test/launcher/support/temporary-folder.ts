import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

/** A folder for one test that every user may enter, as a server that runs under another user must. */
export function createTemporaryFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-launcher-'));
  fs.chmodSync(folder, 0o711);
  return folder;
}
