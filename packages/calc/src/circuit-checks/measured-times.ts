import type { ActuationResult, ClampMovement } from './actuation.types.js';
import type { CheckedTime } from './circuit-checks.types.js';

/** Times read at the machine at the setting in use; null: not read. */
export interface MeasuredTimes {
  timeToSwitchS: number | null;
  timeToContactS: number | null;
  /** both were read as slow as they get, with the switch set as it is: coldest oil, lowest air; false: they may be later; left out: they were */
  isSlowest?: boolean;
  /** with the coldest oil and the lowest air to be reckoned with */
  unclampColdS: number | null;
  /** with any oil and air: with colder oil or lower air it takes no less; left out: as the one above */
  unclampS?: number | null;
  /** how far a reading may be off, either way */
  halfWidthS: number | null;
}

/** As a number to compare by: never is later than anything. */
export const toNumber = (time: CheckedTime): number => (time === 'never' ? Infinity : Number(time));

/** As late as it may be with the coldest oil: whatever was left out of what is reckoned grows with the viscosity, by the same factor at least [s]. */
const toColdAsRead = (readS: number, warmS: number, coldS: number): number =>
  warmS > 0 && Number.isFinite(coldS) ? Math.max(readS, (coldS * readS) / warmS) : readS;

/** The time to the switch as late as that; by how much of it the switch was late nobody may know: that is asked for. */
export const toColdSwitch = (
  readS: number,
  { warm, cold }: Record<'warm' | 'cold', ClampMovement>,
  switchDelayS: number | null | undefined,
): number =>
  switchDelayS == null
    ? readS
    : toColdAsRead(readS, toNumber(warm.timeToSwitchS) + switchDelayS, toNumber(cold.timeToSwitchS) + switchDelayS);

/** A time to open that was read with warmer oil or more air, carried to the worst; null: none was read. */
export function toOpenAsRead(
  readS: number | null | undefined,
  { unclampWarmS, unclampColdS }: ActuationResult,
): number | null {
  if (readS == null) return null;
  return unclampWarmS == null || unclampColdS === null
    ? readS
    : toColdAsRead(readS, toNumber(unclampWarmS), toNumber(unclampColdS));
}

/** The reading, and how much later it may be with the coldest oil. */
export const toSpanOfReading = ({ timeToSwitchS, halfWidthS }: MeasuredTimes, coldS: number) => ({
  timeToSwitchS,
  timeHalfWidthS: halfWidthS === null ? null : halfWidthS + coldS - Number(timeToSwitchS),
});
