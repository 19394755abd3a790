import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { errorCode } from '../support/plain-error.mjs';

/**
 * What PostgreSQL writes into `postmaster.pid` of its data folder
 * (lines 1, 4 and 8 of the file; source: PostgreSQL source, src/include/utils/pidfile.h).
 * @typedef {object} Postmaster
 * @property {number} pid
 * @property {number} port
 * @property {boolean} isReady accepts connections
 */

/**
 * @param {string} cluster the data folder
 * @returns {Postmaster | null} null when there is no such file
 */
export function readPostmaster(cluster) {
  let text;
  try {
    text = fs.readFileSync(pidFile(cluster), 'utf8');
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return null;
    throw error;
  }
  const lines = text.split('\n');
  return { pid: Number(lines[0]), port: Number(lines[3]), isReady: (lines[7] ?? '').trim() === 'ready' };
}

/**
 * A PostgreSQL server that still runs on this data folder, for example after its launcher was killed.
 * A pid file left by a crash whose number now belongs to another program is removed: PostgreSQL would refuse to start.
 * @param {string} cluster
 * @returns {Postmaster | null}
 */
export function findRunningPostmaster(cluster) {
  const postmaster = readPostmaster(cluster);
  if (postmaster === null) return null;
  if (isProcessAlive(postmaster.pid) && readCommandLine(postmaster.pid).includes(cluster)) return postmaster;
  fs.rmSync(pidFile(cluster), { force: true });
  return null;
}

/**
 * Whether a process runs. One that has ended and waits for its parent to notice does not.
 * @param {number} pid
 * @returns {boolean}
 */
export function isProcessAlive(pid) {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
  } catch (error) {
    if (errorCode(error) !== 'EPERM') return false;
  }
  return process.platform !== 'linux' || readState(pid) !== 'Z';
}

/**
 * The state letter of a process on Linux (man 5 proc, field 3 of stat; the name before it may hold anything but ends at
 * the last bracket), or an empty string when it has just ended.
 * @param {number} pid
 */
function readState(pid) {
  try {
    return fs.readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.[0] ?? '';
  } catch (error) {
    if (['ENOENT', 'ESRCH'].includes(errorCode(error))) return 'Z';
    throw error;
  }
}

/** @param {string} cluster */
function pidFile(cluster) {
  return path.join(cluster, 'postmaster.pid');
}

/**
 * The command line of a process, or an empty string when it has just ended.
 * @param {number} pid
 * @returns {string}
 */
export function readCommandLine(pid) {
  try {
    if (process.platform === 'linux') return fs.readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ');
    if (process.platform === 'win32') {
      const query = `(Get-CimInstance Win32_Process -Filter "ProcessId=${pid}").CommandLine`;
      return execFileSync('powershell', ['-NoProfile', '-Command', query], { encoding: 'utf8' });
    }
    return execFileSync('ps', ['-o', 'command=', '-p', String(pid)], { encoding: 'utf8' });
  } catch (error) {
    if (!isProcessAlive(pid)) return '';
    throw error;
  }
}
