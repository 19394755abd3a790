import { aRandomCircuit } from './facts-builder.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { Attempt } from '../src/way-out/attempt.js';
import { Prover } from '../src/way-out/prover.js';
import { Records } from '../src/way-out/records.js';
import { writeFileSync } from 'node:fs';
it('x', () => {
  const lines: string[] = [];
  for (let seed = 0; seed < 700; seed += 1) {
    const facts = aRandomCircuit(seed);
    const w = findWayOut(facts);
    const prover = new Prover();
    if (w.outcome === 'none') {
      if (w.bounds.length > 1) lines.push(`${seed} none ${w.bounds.map((b) => b.code).join()}`);
      continue;
    }
    if (w.changes.length === 0) continue;
    const tried = new Attempt(prover, facts, new Records(prover.prove(facts))).find();
    if ('bad' in tried && tried.bad.length === 0) continue;
    const readAt = facts.settings.readings?.settingPa;
    const isRead = w.changes.some(({ code, lowest, highest }) => code === 'setting' && lowest === readAt && highest === readAt);
    lines.push(`${seed} elsewhere ${isRead} ${w.changes.map(({ code }) => code).join()}`);
  }
  writeFileSync('/tmp/f4-seeds.txt', lines.join('\n'));
}, 600000);
