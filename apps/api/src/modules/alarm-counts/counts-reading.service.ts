import { Injectable } from '@nestjs/common';
import { LONGEST_CHART_S, type AlarmCounts, type InputOf, type routes } from '@repo/contracts';
import { invalidField, notFound } from '../../platform/errors/app-error.js';
import { CountsReadingRepository, type CountsOfMachine, type MachineCircuit } from './counts-reading.repository.js';

const instant = (text: string): string => new Date(text).toISOString();

@Injectable()
export class CountsReadingService {
  constructor(private readonly repository: CountsReadingRepository) {}

  async ofMachine(
    machineId: string,
    query: InputOf<(typeof routes.alarmCounts)['ofMachine']>['query'],
  ): Promise<AlarmCounts> {
    const machine = await this.repository.findMachine(machineId);
    if (machine === null) throw notFound();
    const [from, to] = [new Date(query.from), new Date(query.to)];
    const spanS = (to.getTime() - from.getTime()) / 1000;
    if (!(spanS > 0)) throw invalidField('to', query.to, 'an instant after from');
    if (spanS > LONGEST_CHART_S)
      throw invalidField('to', query.to, `at most ${LONGEST_CHART_S / 86_400} days after from`);
    const { circuits, timeZone } = machine;
    const found = await this.repository.read(
      circuits.map(({ id }) => id),
      from,
      to,
      timeZone,
    );
    const totals = new Map<string, number>();
    for (const { kind, count } of found.alarms) totals.set(kind, (totals.get(kind) ?? 0) + count);
    return {
      machineId,
      from: from.toISOString(),
      to: to.toISOString(),
      bucket: found.bucket,
      timeZone,
      kinds: [...totals].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([kind]) => kind),
      circuits: circuits.map((circuit) => toCircuit(circuit, found)),
    };
  }
}

function toCircuit(circuit: MachineCircuit, found: CountsOfMachine): AlarmCounts['circuits'][number] {
  const ofCircuit = <T extends { circuitId: string }>(rows: readonly T[]): T[] =>
    rows.filter(({ circuitId }) => circuitId === circuit.id);
  const alarms: Record<string, number> = {};
  const byStart = new Map<string, Record<string, number>>();
  for (const { start, kind, count } of ofCircuit(found.alarms)) {
    alarms[kind] = (alarms[kind] ?? 0) + count;
    byStart.set(start, { ...byStart.get(start), [kind]: count });
  }
  const buckets = ofCircuit(found.buckets);
  return {
    circuitId: circuit.id,
    circuitName: circuit.name,
    openFindings: circuit.open_findings,
    clampCycles: buckets.reduce((sum, bucket) => sum + bucket.clampCycles, 0),
    alarms,
    buckets: buckets.map((bucket) => ({
      start: instant(bucket.start),
      clampCycles: bucket.clampCycles,
      alarms: byStart.get(bucket.start) ?? {},
      coveredRatio: Math.min(1, bucket.coveredS / bucket.lengthS),
      revised: bucket.revised,
    })),
    gaps: ofCircuit(found.gaps).map(({ from, to }) => ({ from: instant(from), to: instant(to) })),
    revisions: ofCircuit(found.revisions).map(({ from, to, revision, clampCycles, before }) => ({
      from: instant(from),
      to: instant(to),
      revision,
      clampCycles,
      before,
    })),
  };
}
