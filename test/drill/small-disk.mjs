import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

/** Whether a small disk can be mounted here: only root may. */
export const canMount = () => process.getuid?.() === 0;

/**
 * Runs `work` on a small disk of its own, in memory, which every user may enter.
 * @template T
 * @param {number} sizeMb
 * @param {(disk: string) => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function onSmallDisk(sizeMb, work) {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-full-'));
  fs.chmodSync(folder, 0o755);
  execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${sizeMb}m,mode=755`, 'tmpfs', folder]);
  try {
    return await work(folder);
  } finally {
    execFileSync('umount', ['-l', folder]);
    fs.rmdirSync(folder);
  }
}
