import type { QuantityKind } from '@repo/quantity';

export type ExportColumnType =
  'text' | 'integer' | 'number' | 'boolean' | 'date' | 'instant' | 'list' | 'quantity' | 'json';

/** A column of an export: its heading, what its cells are, and the expression of SQL that gives them. */
export interface ExportColumn {
  readonly header: string;
  readonly type: ExportColumnType;
  readonly sql: string;
  /** of a quantity: its value is in SI, or is the quantity as it was typed */
  readonly kind?: QuantityKind;
  /** expression that gives the quantity as it was typed */
  readonly entered?: string;
}

/** Where the rows of a table come from. Row security decides which of them come. */
export interface ExportedTable {
  /** name of the sheet */
  readonly title: string;
  /** tables and joins; `t` is the table itself */
  readonly from: string;
  readonly where?: string;
  /** unique and never changed: pages go on behind it */
  readonly key: readonly { readonly sql: string; readonly cast: string }[];
  readonly columns: readonly ExportColumn[];
  /** a document of counts by kind: each kind that is there gets a column of its own, behind those above */
  readonly counts?: { readonly header: string; readonly sql: string };
  /** the time zone that a workbook's instants stand in; without one UTC, and the heading says so */
  readonly timeZone?: string;
}

/** The zone of instants that belong to no site. */
export const UTC = "'UTC'";

export const UUID_KEY = [{ sql: 't.id', cast: 'uuid' }] as const;

export const snake = (name: string): string => name.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

/** A join by id within the organisation. */
export const join = (table: string, alias: string, on: string, isLeft = false): string =>
  `${isLeft ? 'LEFT ' : ''}JOIN ${table} ${alias} ON ${alias}.organisation_id = t.organisation_id AND ${alias}.id = ${on}`;
