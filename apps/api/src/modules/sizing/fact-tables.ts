import type {
  CircuitRowFacts,
  ControlMachineFacts,
  FixtureFacts,
  LineFunction,
  MCodeFacts,
  OperationFacts,
  PowerUnitFacts,
  ReadingFacts,
  SettingsFacts,
  SignalFacts,
  WireFacts,
} from '@repo/calc';
import type { CIRCUIT_FIGURES, ControlFactsOf } from '@repo/calc/figures';
import type { ComponentKind, Margins } from '@repo/contracts';
import type { StoredFigures } from '../../documents/component-figures.js';

/** A circuit, where it hangs, and what the control of its machine has to do with. */
export interface CircuitRow {
  customerId: string;
  machineId: string;
  powerUnitId: string;
  seenByControl: ControlFactsOf<typeof CIRCUIT_FIGURES>;
  facts: CircuitRowFacts;
}
export interface MachineRow {
  siteId: string;
  facts: ControlMachineFacts;
}
export interface InstalledRow {
  id: string;
  componentTypeId: string;
  /** of its type, which never changes it */
  kind: ComponentKind;
  designation: string;
  lineFunctions: LineFunction[];
  sensing: 'pump' | 'manifold' | 'clamp-line' | null;
  isBeyondShutOff: boolean | null;
  figures: StoredFigures;
  validFrom: Date;
}
export interface Fitting {
  fixtureId: string;
  validFrom: Date;
}
export interface Revision {
  revision: number;
  at: Date;
}
export interface Control {
  signals: SignalFacts[];
  wires: WireFacts[];
  mCodes: MCodeFacts[];
}

/** Every kind of facts that a proof can look up, and what stands under an id of it. */
export interface FactTables {
  'margins-asked': { margins: Margins; leastProbability: number };
  customer: { name: string };
  site: { name: string; place: string };
  machine: MachineRow;
  'circuits-of-machine': string[];
  'control-of-machine': Control;
  'power-unit': PowerUnitFacts;
  'circuits-of-power-unit': string[];
  'components-of-power-unit': InstalledRow[];
  circuit: CircuitRow;
  'components-of-circuit': InstalledRow[];
  'component-type': { name: string; figures: StoredFigures };
  'fitting-of-station': Fitting;
  /** with the day on which what oil moves in it was last made another; null: never since it was made */
  fixture: { facts: FixtureFacts; elementsChangedAt: Date | null };
  'operations-of-fixture': OperationFacts[];
  'target-settings-of-circuit': Revision & { settings: SettingsFacts };
  'setup-records-of-circuit': Revision & { settings: SettingsFacts; readings: ReadingFacts };
}
export type Facts = { readonly [Kind in keyof FactTables]: ReadonlyMap<string, FactTables[Kind]> };
