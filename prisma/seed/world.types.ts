import type { ControlBehaviour } from '@repo/contracts';
import type { ComponentTypeKey } from './library.mjs';
import type { Random } from './random.mjs';
import type { InstalledComponentRow, Rows, SiteRow, StationRow } from './rows.types.js';

/** Pressures in bar, as people say them. */
export interface Settings {
  setting: number;
  setting_tolerance: number;
  set_point: number;
  reset_point: number;
  air_pressure: number | undefined;
  pump_restart: number;
  pump_restart_tolerance: number;
}

/** What a fixture asks of its circuit, in bar. */
export interface FixturePlan {
  rating: number;
  /** null: nobody knows what its operations need */
  required: number | null;
  /** the highest that the workpiece bears */
  limit?: number | undefined;
  notRated?: boolean | undefined;
  name?: string | undefined;
  reason?: string | undefined;
}

/** What differs in a circuit from the usual one; pressures in bar. */
export interface CircuitPlan {
  required?: number | null;
  rating?: number;
  limit?: number;
  setting?: number;
  tolerance?: number;
  /** where the pressure switch answers, with pressure rising */
  set?: number;
  /** and with pressure falling */
  reset?: number;
  /** how far the other pallet pulls the supply down */
  dip?: number;
  hoseLot?: string;
  manifold?: ComponentTypeKey;
  fixtureNotRated?: boolean;
  unclampCanBlock?: boolean;
  canTrap?: boolean;
  decoupled?: { hours: number; cooling: number; isProvedAgain: boolean };
}

/** What happens to a machine; the fleet page shows each. */
export type Story =
  | 'blocked-unclamp'
  | 'emergency-stop'
  | 'fixture-swapped'
  | 'gauge-error'
  | 'missing-rating'
  | 'new-roughing'
  | 'no-cutting-data'
  | 'recall'
  | 'recall-exchanged'
  | 'recall-sold'
  | 'shared-supply'
  | 'thin-workpiece'
  | 'trapped';

/** What is special about a machine. */
export interface MachinePlan {
  story?: Story;
  isPallets?: boolean;
  relief?: ComponentTypeKey;
  emergencyStop?: string;
  /** what its control does otherwise than the sound one */
  control?: Partial<ControlBehaviour>;
  circuits?: CircuitPlan[];
}

/** A machine as it is to be built. */
export interface MachineSpec extends MachinePlan {
  site: SiteRow;
  name: string;
  model: string;
  isPallets: boolean;
  isElectric: boolean;
  wayIn: 'direct' | 'rotary-union' | 'through-table-supply';
  /** installed so many days before now */
  daysAgo: number;
}

/** Whose row it is. */
export interface CustomerKey {
  customer_id: string;
}

export interface Fixture {
  id: string;
  fittedAt: Date;
  /** how many clamps it has */
  clamps: number;
}

/** A circuit that was built, with what its history goes on from. */
export interface Circuit {
  id: string;
  key: CustomerKey;
  station: StationRow;
  fixture: Fixture;
  settings: Settings;
  sharedDip: number | undefined;
  isElectric: boolean;
  isDecoupled: boolean;
  pressureSwitch: InstalledComponentRow;
  /** of its setup records, and of its target settings: the last one written */
  revision: number;
  targetRevision: number;
}

/** A machine that was built; it has at least one circuit. */
export interface Machine {
  id: string;
  name: string;
  spec: MachineSpec;
  installedAt: Date;
  powerUnitId: string;
  circuits: Circuit[];
}

/** Everything that the demonstration is made of, while it is made. */
export interface World {
  random: Random;
  rows: Rows;
  /** component types by the short names of the scenario */
  types: Record<ComponentTypeKey, string>;
  now: Date;
  sites: SiteRow[];
  engineer: { id: string; display_name: string };
  machines: Machine[];
  fixtureCount: number;
  issueCount: number;
}
