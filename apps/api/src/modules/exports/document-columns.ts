import { COMPONENT_FIGURE_COLUMNS, CONTROL_BEHAVIOUR_FIELDS, importField, type ImportField } from '@repo/contracts';
import { CUT_COLUMNS } from './cut-columns.js';
import { ELEMENT_COLUMNS } from './element-columns.js';
import type { ExportColumn } from './export-columns.js';

/** One rule of what a machine's control does. */
function toBehaviour({ header, name, type }: ImportField): ExportColumn {
  const sql = `t.control_behaviour ->> '${name}'`;
  return type === 'boolean' ? { header, type, sql: `(${sql})::boolean` } : { header, type: 'text', sql };
}

/** A figure of a component type, and where it comes from. */
const figures = COMPONENT_FIGURE_COLUMNS.flatMap(({ figure, kind, value, source }): [string, ExportColumn][] => {
  const { header } = value;
  const found = `t.figures -> '${figure}'`;
  return [
    [
      value.key,
      kind === 'ratio'
        ? { header, type: 'number', sql: `(${found} ->> 'value')::float8` }
        : { header, type: 'quantity', kind, sql: `(${found} ->> 'si')::float8`, entered: found },
    ],
    [source.key, { header: source.header, type: 'text', sql: `${found} ->> 'source'` }],
  ];
});

/** Figures that a component has of its own, each with its source in brackets: as the import reads them. */
const OWN_FIGURES = `(SELECT string_agg(
    lower(regexp_replace(f.name, '([A-Z])', ' \\1', 'g')) || ' = ' || (f.figure ->> 'value')
      || CASE WHEN f.figure ->> 'unit' = '1' THEN '' ELSE ' ' || (f.figure ->> 'unit') END
      || ' [' || regexp_replace(f.figure ->> 'source', '([]\\\\])', '\\\\\\1', 'g') || ']', '; ' ORDER BY f.name COLLATE "C")
  FROM jsonb_each(t.figures) f (name, figure))`;

const REASON_OF_TYPE = `(SELECT r.reason FROM component_type_revisions r
  WHERE r.organisation_id = t.organisation_id AND r.component_type_id = t.id AND r.revision = t.revision)`;

const text = (key: string, sql: string): [string, ExportColumn] => [
  key,
  { header: importField(key)?.header ?? key, type: 'text', sql },
];

/** Columns of importable tables that are no column of their record: by the keys of their fields. */
export const SPECIAL: ReadonlyMap<string, ExportColumn> = new Map([
  ...CONTROL_BEHAVIOUR_FIELDS.map((field): [string, ExportColumn] => [field.key, toBehaviour(field)]),
  ...figures,
  ...ELEMENT_COLUMNS.map(([name, column]): [string, ExportColumn] => [`fixture-element.${name}`, column]),
  ...CUT_COLUMNS,
  text('component-type.figuresSource', 'NULL::text'),
  text('component-type.reason', REASON_OF_TYPE),
  text('installed-component.ownFigures', OWN_FIGURES),
  text('signal.component', 'ic.designation'),
]);
