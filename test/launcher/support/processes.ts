import fs from 'node:fs';
import { readCommandLine } from '@repo/launcher/processes';

/** The processes that one has started and that still run, by what their command line says (Linux). */
export function findChildren(parent: number, name: RegExp): number[] {
  return fs
    .readdirSync('/proc')
    .filter((entry) => /^\d+$/.test(entry))
    .map(Number)
    .filter((pid) => readParent(pid) === parent && name.test(readCommandLine(pid)));
}

/** Fields 3 and 4 of stat, behind the name, which may hold anything but ends at the last bracket (man 5 proc). */
function readParent(pid: number): number | null {
  const stat = readIfThere(`/proc/${pid}/stat`);
  const [state, parent] = stat?.split(') ').at(-1)?.split(' ') ?? [];
  return state === undefined || state === 'Z' ? null : Number(parent);
}

function readIfThere(file: string): string | null {
  try {
    return fs.readFileSync(file, 'utf8');
  } catch (error) {
    // A process that ended between listing and reading; no `instanceof`, since a test has an Error of its own.
    const code = typeof error === 'object' && error !== null && 'code' in error ? error.code : null;
    if (code === 'ENOENT' || code === 'ESRCH') return null;
    throw error;
  }
}
