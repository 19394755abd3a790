const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** Counts as a gateway reports them: by the day, and by the hour for the machine whose pallets disturb each other. */
export function buildCounts(world, sourceId) {
  const { random, rows, now } = world;
  const midnight = new Date(Math.floor(now.getTime() / DAY) * DAY);
  for (const machine of world.machines) {
    const isShared = machine.spec.story === 'shared-supply';
    const days = isShared ? 21 : 35;
    const step = isShared ? HOUR : DAY;
    machine.circuits.forEach((circuit, index) => {
      for (let at = midnight.getTime() - days * DAY; at < midnight.getTime(); at += step) {
        const hour = (at % DAY) / HOUR;
        const isShift = !isShared || (hour >= 6 && hour < 22);
        const other = isShared && index === 0 && isShift && hour % 3 === 1;
        const cycles = isShift ? random.count(isShared ? (index === 1 && hour % 3 === 1 ? 18 : 6) : 90) : 0;
        // The alarms of pallet 1 lie where pallet 2 clamps most, and grow week by week.
        const week = Math.floor((midnight.getTime() - at - 1) / (7 * DAY));
        const mean = other ? ([0.25, 0.18, 0.1][week] ?? 0) : isShared ? 0 : 0.02;
        const lost = random.count(mean);
        rows.alarm_counts.push({
          ...circuit.key,
          circuit_id: circuit.id,
          source_id: sourceId,
          webhook_id: `demo-${at}`,
          from_at: new Date(at),
          to_at: new Date(at + step),
          revision: 1,
          clamp_cycles: cycles,
          alarms: lost === 0 ? {} : { 'clamping-pressure-lost': lost },
          measures: null,
          numbers_hash: 0,
          stands: true,
        });
      }
    });
  }
}
