import { importField, type ImportMapping, type ImportReading } from '@repo/contracts';
import { invalidField } from '../../platform/errors/app-error.js';

/** Sheets, columns and fields that a mapping names must be there, and each field once a sheet. */
export function assertMapping(reading: ImportReading, mapping: ImportMapping): void {
  for (const [position, sheet] of mapping.sheets.entries()) {
    const described = reading.sheets[sheet.sheet];
    if (described === undefined)
      throw invalidField(`mapping.sheets.${position}.sheet`, sheet.sheet, 'a sheet of the file');
    const used = new Set<string>();
    for (const [index, { column, field }] of [
      ...sheet.columns,
      ...sheet.constants.map(({ field }) => ({ column: 0, field: field as string | null })),
    ].entries()) {
      const at = `mapping.sheets.${position}.columns.${index}`;
      if (described.columns[column] === undefined) throw invalidField(`${at}.column`, column, 'a column of the sheet');
      if (field === null) continue;
      if (importField(field) === undefined) throw invalidField(`${at}.field`, field, 'a field of an import');
      if (used.has(field)) throw invalidField(`${at}.field`, field, 'a field that no other column has', 'twice');
      used.add(field);
    }
  }
}
