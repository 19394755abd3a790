/**
 * The clamping stroke of a circuit a second time, plainly: steps of a quarter of a millisecond, each solved backwards for the one pressure at the cylinders
 * that fits what the pump gives, what the cylinders take and what oil and hoses give way by. No error control, no derivative, no order.
 */
import type { ActuationGroup, ActuationInput } from '../../src/circuit-checks/actuation.types.js';

const STEP_S = 2.5e-4;
const LONGEST_S = 8;
const ATMOSPHERE = 101_325;
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
const circle = (diameterM: number): number => (Math.PI / 4) * diameterM ** 2;

/** Where something that falls with x passes zero between two ends, by false position (Illinois); the end that it does not pass. */
function findZero(low: number, high: number, curve: (x: number) => number): number {
  let [from, to, above, below] = [low, high, curve(low), curve(high)];
  if (above <= 0) return low;
  if (below >= 0) return high;
  let side = 0;
  for (let count = 0; count < 60 && to - from > 1e-9 * high; count += 1) {
    const x = (from * below - to * above) / (below - above);
    const value = curve(x);
    if (value === 0) return x;
    if (value > 0) {
      [from, above] = [x, value];
      if (side > 0) below /= 2;
      side = 1;
    } else {
      [to, below] = [x, value];
      if (side < 0) above /= 2;
      side = -1;
    }
  }
  return from;
}

/**
 * Loss for each flow of lines and of the valve at a flow: laminar by Hagen-Poiseuille, turbulent above Re 2300 by Blasius; the valve by its rated
 * point, more beyond that flow, and more in oil that is thicker than at 40 C.
 */
function lossAt(
  input: ActuationInput,
  nu: number,
  names: readonly (keyof ActuationInput['lines'])[],
  q: number,
  valves: 0 | 1,
): number {
  const { lines, valve, oil } = input;
  const ofLines = names.flatMap((name) =>
    lines[name].map(({ lengthM, innerDiameterM }) => {
      const d = Number(innerDiameterM);
      const reynolds = ((q / circle(d)) * d) / nu;
      const friction = reynolds > 2300 ? 0.3164 / reynolds ** 0.25 : null;
      const laminar = (128 * nu * Number(oil.densityKgPerM3) * Number(lengthM)) / (Math.PI * d ** 4);
      return friction === null ? laminar : (laminar * friction * reynolds) / 64;
    }),
  );
  const rated = Number(valve?.ratedFlowM3PerS);
  const thicker = Math.max(1, nu / Number(oil.viscosityAt40M2PerS));
  return sum(ofLines) + (valves * Number(valve?.lossAtRatedFlowPa) * Math.max(rated, q) * thicker) / rated ** 2;
}

/** Flow that a pressure drives through them. */
const drivenBy = (pa: number, lossOf: (q: number) => number): number =>
  findZero(0, pa / lossOf(0), (q) => pa - lossOf(q) * q);

/**
 * Times of the last contact and of the switch, with oil of a viscosity and the air set; unclamping with the lowest air, when springs push their
 * oil back through the lines through which what oil drives returns.
 */
export function followPlainly(
  input: ActuationInput,
  nu: number,
  direction: 'clamp' | 'unclamp' = 'clamp',
): { contactS: number; switchS: number } {
  const isClamping = direction === 'clamp';
  const [inLine, outLine] = isClamping ? (['clamp', 'unclamp'] as const) : (['unclamp', 'clamp'] as const);
  const { lines, pump, oil, flowControls = [], sequenceValves = [] } = input;
  const limitOf = (way: 'toCylindersM3PerS' | 'fromCylindersM3PerS', ...of: string[]): number =>
    Math.min(Infinity, ...flowControls.filter(({ line }) => of.includes(line)).map((one) => Number(one[way])));
  const [freeFlow, stall] = [
    Number((isClamping ? null : pump.freeFlowLowM3PerS) ?? pump.freeFlowM3PerS),
    Number(isClamping ? pump.stallPressurePa : pump.stallPressureLowPa),
  ];
  const inflow = limitOf('toCylindersM3PerS', 'supply', inLine);
  const outflow = limitOf('fromCylindersM3PerS', outLine, 'tank');
  const opening = isClamping ? Math.max(0, ...sequenceValves.map((one) => Number(one.openingPressurePa))) : 0;

  const sides = (group: ActuationGroup): [number, number] => {
    const [piston, annulus] = [circle(Number(group.boreM)), circle(Number(group.boreM)) - circle(Number(group.rodM))];
    if (group.acting === 'single' && isClamping) return [piston, 0];
    // Its spring pushes out what it took, and no oil drives it.
    if (group.acting === 'single') return [0, group.pulls === true ? annulus : piston];
    return (group.pulls === true) === isClamping ? [annulus, piston] : [piston, annulus];
  };
  // Each loss is that of the most that may pass: into the cylinders the pump's flow, out of them by the areas, or what the strongest spring drives.
  const most = Math.min(freeFlow, inflow);
  const [supply, way] = [lossAt(input, nu, ['supply'], most, 0), lossAt(input, nu, [inLine], most, 1)];
  const backLoss = (q: number): number => lossAt(input, nu, [outLine, 'tank'], q, 1);
  const comesBack = input.groups.map((group) => {
    const [drive, back] = sides(group);
    const push = Number(group.springForceN) / back;
    if (group.acting === 'single') return isClamping || push === 0 ? 0 : drivenBy(push, backLoss);
    return (most * back) / drive;
  });
  const returnLoss = backLoss(Math.min(outflow, Math.max(...comesBack)));
  const movers = input.groups.map((group) => {
    const [drive, back] = sides(group);
    const spring = group.acting === 'single' ? Number(group.springForceN) * (isClamping ? 1 : -1) : 0;
    const holdN = Number(group.frictionN) + spring + Number(input.returnPressurePa) * back;
    return { ...group, drive, back, holdN, x: 0, stroke: Number(group.strokeM) };
  });

  /** The pump against its own straight line and the loss on the way, and no more than a control lets through. */
  const pumpFlow = (pa: number): number =>
    Math.min(inflow, Math.max(0, (stall - pa) / (stall / freeFlow + supply + way)));
  /** What a group would do at a pressure before it, one behind it, and a share of its valve's opening. */
  const speedOf = (mover: (typeof movers)[number], pa: number, backPa: number): number => {
    if (mover.x >= mover.stroke) return 0;
    const share = mover.isSequenced === true && opening > 0 ? Math.min(1, Math.max(0, (pa / opening - 1) / 0.01)) : 1;
    return Math.max(
      0,
      (share * (pa * mover.drive - backPa * mover.back - mover.holdN)) / Number(mover.viscousFrictionNsPerM),
    );
  };
  const outOf = (pa: number, backPa: number): number =>
    sum(movers.map((mover) => mover.count * mover.back * speedOf(mover, pa, backPa)));
  const holding = (name: keyof ActuationInput['lines']) => {
    const pieces = lines[name].map((piece) => {
      const volume = circle(Number(piece.innerDiameterM)) * Number(piece.lengthM);
      return { volume, widening: piece.isHose ? volume / Number(piece.expansionModulusPa) : 0 };
    });
    const volume = sum(pieces.map((one) => one.volume));
    return { volume, swelling: volume > 0 ? sum(pieces.map((one) => one.widening)) / volume : 0 };
  };
  const [{ volume: lineVolume, swelling }, behind] = [holding(inLine), holding(outLine)];
  /** Share of its volume that a mixture has left at a pressure. */
  const left = (pa: number): number => {
    const [a, k] = [Number(oil.airFraction), Number(oil.bulkModulusPa)];
    return (1 - a) * Math.exp(-pa / k) + a * (ATMOSPHERE / (pa + ATMOSPHERE)) ** (1 / 1.4);
  };
  /** What a pressure behind drives through the return: no more than by the loss of the most that may pass, nor by the loss of what passes. */
  const passing = Array.from({ length: 400 }, (_, k) => {
    const q = 1e-9 * 1.04 ** k;
    return { q, pa: q * backLoss(q) };
  });
  const driven = (backPa: number): number => {
    let [below, above] = [-1, passing.length];
    while (above - below > 1) {
      const middle = Math.floor((below + above) / 2);
      if (Number(passing[middle]?.pa) >= backPa) above = middle;
      else below = middle;
    }
    const [low, high] = [passing[below] ?? { q: 0, pa: 0 }, passing[above]];
    const byLoss = high === undefined ? low.q : low.q + ((backPa - low.pa) / (high.pa - low.pa)) * (high.q - low.q);
    return Math.min(outflow, backPa / returnLoss, byLoss);
  };
  const standing = Number(input.returnPressurePa);
  // Until now the other line pressed, with what its oil had warmed up by: it lets down while this one fills.
  let backPa = Math.max(0, Number(pump.stallPressurePa) + Number(input.warmedPa?.[outLine] ?? 0) - standing);
  /** What is behind after a step at a pressure before: what came out of the cylinders less what went, in oil that gives way. */
  const backAt = (pa: number): number => {
    const volume = behind.volume + sum(movers.map((one) => one.count * one.back * (one.stroke - one.x)));
    if (volume === 0) return 0;
    // Clamps that still touch give back what they were bent by.
    const bent = isClamping
      ? 0
      : sum(movers.map((one) => (one.x > 0 ? 0 : (one.count * one.back ** 2) / Number(one.contactStiffnessNPerM))));
    const most = Math.max(
      backPa,
      ...movers.map(({ drive, back, holdN }) => (back > 0 ? (pa * drive - holdN) / back : 0)),
    );
    const kept = (next: number): number =>
      volume * Math.log(left(backPa + standing) / left(next + standing)) +
      (behind.swelling * volume + bent) * (next - backPa);
    return findZero(0, most, (next) => (outOf(pa, next) - driven(next)) * STEP_S - kept(next));
  };
  const places = { pump: 0, manifold: supply, 'clamp-line': Infinity } as const;
  /** Pressure where the switch senses. */
  const sensed = (pa: number): number => {
    const before = places[input.switchAt ?? 'manifold'];
    const flow = pumpFlow(pa);
    return before === Infinity ? pa : stall - (stall / freeFlow) * flow - before * flow;
  };

  let [pa, timeS, contactS, switchS] = [0, 0, Infinity, Infinity];
  while (timeS < LONGEST_S && (contactS === Infinity || (isClamping && switchS === Infinity))) {
    const before = pa;
    const volume = lineVolume + sum(movers.map((mover) => mover.count * mover.drive * mover.x));
    const springs = sum(
      movers.map((mover) =>
        mover.x >= mover.stroke ? (mover.count * mover.drive ** 2) / Number(mover.contactStiffnessNPerM) : 0,
      ),
    );
    // Oil that came in is where the cylinders went, in what the oil gave way by, and in the springs of contact.
    const surplus = (next: number): number => {
      const after = backAt(next);
      const taken = sum(movers.map((mover) => mover.count * mover.drive * speedOf(mover, next, after)));
      const given = volume * Math.log(left(before) / left(next)) + swelling * volume * (next - before);
      return (pumpFlow(next) - taken) * STEP_S - given - springs * (next - before);
    };
    pa = findZero(isClamping ? before : 0, stall, surplus);
    backPa = backAt(pa);
    for (const mover of movers) mover.x = Math.min(mover.stroke, mover.x + STEP_S * speedOf(mover, pa, backPa));
    timeS += STEP_S;
    if (contactS === Infinity && movers.every(({ x, stroke }) => x >= stroke)) contactS = timeS;
    if (switchS === Infinity && sensed(pa) >= Number(input.switchRisingPa)) switchS = timeS;
  }
  return { contactS, switchS };
}

/**
 * How long the clamp line lets down before the weakest spring pushes, plainly: explicit steps in which oil that is pressed together, hoses that are
 * widened and clamps that are bent give back what flows out.
 */
export function letDownPlainly(input: ActuationInput, nu: number): number {
  const { lines, pump, oil, flowControls = [], groups } = input;
  const controls = flowControls.filter(({ line }) => line === 'clamp' || line === 'tank');
  const limit = Math.min(Infinity, ...controls.map((one) => Number(one.fromCylindersM3PerS)));
  const areaOf = (group: ActuationGroup): number => {
    const [piston, annulus] = [circle(Number(group.boreM)), circle(Number(group.boreM)) - circle(Number(group.rodM))];
    return group.pulls === true ? annulus : piston;
  };
  const springs = groups.filter(({ acting, strokeM }) => acting === 'single' && Number(strokeM) > 0);
  const held = Math.min(...springs.map((one) => (Number(one.springForceN) - Number(one.frictionN)) / areaOf(one)));
  const line = sum(lines.clamp.map((one) => circle(Number(one.innerDiameterM)) * Number(one.lengthM)));
  const widening = sum(
    lines.clamp.map((one) =>
      one.isHose ? (circle(Number(one.innerDiameterM)) * Number(one.lengthM)) / Number(one.expansionModulusPa) : 0,
    ),
  );
  const volume = line + sum(groups.map((one) => one.count * areaOf(one) * Number(one.strokeM)));
  const bent = sum(groups.map((one) => (one.count * areaOf(one) ** 2) / Number(one.contactStiffnessNPerM)));
  const left = (pa: number): number => {
    const [a, k] = [Number(oil.airFraction), Number(oil.bulkModulusPa)];
    return (1 - a) * Math.exp(-pa / k) + a * (ATMOSPHERE / (pa + ATMOSPHERE)) ** (1 / 1.4);
  };
  let [pa, timeS] = [Number(pump.stallPressurePa), 0];
  while (pa > held && timeS < 60) {
    const perPascal = (Math.log(left(pa) / left(pa + 1)) + widening / line) * volume + bent;
    const above = pa - Number(input.returnPressurePa);
    const flow = Math.min(
      limit,
      drivenBy(above, (q) => lossAt(input, nu, ['clamp', 'tank'], q, 1)),
    );
    // No step takes more than a thousandth of what is there.
    const stepS = Math.min(1e-3, (1e-3 * (pa - Number(input.returnPressurePa)) * perPascal) / flow);
    pa -= (flow * stepS) / perPascal;
    timeS += stepS;
  }
  return timeS;
}
