import type { QuantityKind } from '@repo/quantity';

export type ImportFieldType =
  'text' | 'integer' | 'number' | 'boolean' | 'date' | 'instant' | 'choice' | 'list' | 'quantity' | 'component-type';

export interface ImportField {
  /** `entity.name`; the name is that of the contract */
  readonly key: string;
  readonly entity: ImportEntity;
  readonly name: string;
  /** heading in templates and exports; a unit follows in brackets where the column has one: `Setting [bar]` */
  readonly header: string;
  readonly type: ImportFieldType;
  /** of a quantity */
  readonly kind?: QuantityKind;
  /** of a choice, and of a list of choices */
  readonly choices?: readonly string[];
  /** needed to make a new record; a record that is there may leave it out */
  readonly required?: true;
  /** zero is allowed (quantities) */
  readonly zero?: true;
  /** below zero is allowed (quantities) */
  readonly negative?: true;
  /** the least and the most that it can be [SI] (quantities) */
  readonly within?: readonly [least: number, most: number];
  readonly max?: number;
  readonly min?: number;
  /** other headings by which the column is recognised, lower case */
  readonly synonyms?: readonly string[];
}

export const IMPORT_ENTITIES = [
  'component-type',
  'customer',
  'site',
  'machine',
  'station',
  'power-unit',
  'circuit',
  'installed-component',
  'm-code',
  'signal',
  'wire',
  'fixture',
  'fixture-element',
  'operation',
  'fixture-fitting',
  'target-setting',
  'setup-record',
] as const;
export type ImportEntity = (typeof IMPORT_ENTITIES)[number];

/** What a field may say beside its name, heading and type. */
export type Rest = Omit<ImportField, 'key' | 'entity' | 'name' | 'header' | 'type'>;
export const fieldsOf =
  (entity: ImportEntity) =>
  (name: string, header: string, type: ImportFieldType, rest: Rest = {}): ImportField => ({
    key: `${entity}.${name}`,
    entity,
    name,
    header,
    type,
    ...rest,
  });
