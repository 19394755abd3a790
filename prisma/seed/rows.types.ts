import type { Prisma, toStoredElements } from '@repo/api/seeding';

/** A field of the database's client as its column is called: `ratedPressurePa` is `rated_pressure_pa`. */
type ColumnName<Field extends string, Column extends string = ''> = Field extends `${infer First}${infer Rest}`
  ? ColumnName<Rest, `${Column}${First extends Lowercase<First> ? First : `_${Lowercase<First>}`}`>
  : Column;

/** What JSON can hold for a column: documents as plain objects, dates and bytes as text. */
type ColumnValue<Value> = Prisma.InputJsonObject extends Value
  ? object | null
  : Value extends Uint8Array
    ? string
    : Value extends bigint
      ? never
      : Value;

/** What reaches into other tables, and the organisation, which is the same in every row. */
type NoColumn = 'organisationId' | `${string}By${string}Id`;

/** A row as it is written: the columns of its table, without those that the database may fill itself where nobody names them. */
type Row<Input> = {
  [Field in keyof Input as Field extends NoColumn ? never : ColumnName<Field & string>]: ColumnValue<Input[Field]>;
};

/** A column that the demonstration reads again is narrower than what the database would take. */
type Known<Table, Columns> = Omit<Table, keyof Columns> & Columns;

export type CustomerRow = Row<Prisma.CustomerUncheckedCreateInput>;
export type SiteRow = Row<Prisma.SiteUncheckedCreateInput>;
export type ComponentTypeRow = Row<Prisma.ComponentTypeUncheckedCreateInput>;
export type StationRow = Row<Prisma.StationUncheckedCreateInput>;
export type InstalledComponentRow = Row<Prisma.InstalledComponentUncheckedCreateInput>;
type FixtureRow = Known<Row<Prisma.FixtureUncheckedCreateInput>, { elements: ReturnType<typeof toStoredElements> }>;
export type MachineRow = Row<Prisma.MachineUncheckedCreateInput>;
export type TargetSettingRow = Row<Prisma.TargetSettingUncheckedCreateInput>;
export type OperationRow = Row<Prisma.OperationUncheckedCreateInput>;
export type SignalRow = Row<Prisma.SignalUncheckedCreateInput>;
export type IssueRow = Row<Prisma.IssueUncheckedCreateInput>;
export type SourceRow = Row<Prisma.SourceUncheckedCreateInput>;
export type AlarmCountRow = Known<
  Row<Prisma.AlarmCountUncheckedCreateInput>,
  { from_at: Date; to_at: Date; alarms: Record<string, number>; prevails: boolean }
>;

/** Tables that an engineer writes, in the order that their references ask for. */
export interface Rows {
  customers: CustomerRow[];
  sites: SiteRow[];
  component_types: ComponentTypeRow[];
  component_type_revisions: Row<Prisma.ComponentTypeRevisionUncheckedCreateInput>[];
  machines: MachineRow[];
  machine_placements: Row<Prisma.MachinePlacementUncheckedCreateInput>[];
  stations: StationRow[];
  power_units: Row<Prisma.PowerUnitUncheckedCreateInput>[];
  circuits: Row<Prisma.CircuitUncheckedCreateInput>[];
  m_codes: Row<Prisma.MCodeUncheckedCreateInput>[];
  installed_components: InstalledComponentRow[];
  fixtures: FixtureRow[];
  fixture_fittings: Row<Prisma.FixtureFittingUncheckedCreateInput>[];
  operations: OperationRow[];
  signals: SignalRow[];
  wires: Row<Prisma.WireUncheckedCreateInput>[];
  target_settings: TargetSettingRow[];
  setup_records: Row<Prisma.SetupRecordUncheckedCreateInput>[];
  service_events: Row<Prisma.ServiceEventUncheckedCreateInput>[];
  issues: IssueRow[];
  alarm_counts: AlarmCountRow[];
  number_counters: Row<Prisma.NumberCounterUncheckedCreateInput>[];
}

/** Tables that only an administrator writes, or that stand on counts. */
export interface LateRows {
  source_machines: Row<Prisma.SourceMachineUncheckedCreateInput>[];
  deliveries: Row<Prisma.DeliveryUncheckedCreateInput>[];
  findings: Row<Prisma.FindingUncheckedCreateInput>[];
  alarm_rules: Row<Prisma.AlarmRuleUncheckedCreateInput>[];
  issues: IssueRow[];
}

type ColumnsOf<Table> = Table extends unknown ? keyof Table & string : never;
type AnyColumn = ColumnsOf<Rows[keyof Rows][number]>;

/** A quantity that some table keeps as it was entered, beside its SI value. */
export type QuantityName = AnyColumn extends infer Column
  ? Column extends `${infer Name}_entered`
    ? Name
    : never
  : never;
/** The SI unit at the end of a quantity's other column. */
export type SiEnding<Name extends QuantityName> = AnyColumn extends infer Column
  ? Column extends `${Name}_${infer Ending}`
    ? Exclude<Ending, 'entered'>
    : never
  : never;
