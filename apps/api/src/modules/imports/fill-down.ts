import type { ImportField } from '@repo/contracts';
import type { Cell, Row } from '../../platform/sheets/index.js';
import { textOf } from './headings.js';
import { IDENTITY, isWithin } from './identity.js';
import { fold } from './plan-model.js';

interface FilledColumn {
  column: number;
  field: Pick<ImportField, 'entity' | 'name'>;
  /** an empty cell says what the one above says */
  fillDown: boolean;
}
export interface CellContent {
  content: Cell;
  /** it was empty, and says what stands above it */
  isFilled: boolean;
}

/**
 * Gives empty cells of a column what stands above them, where that was asked for. What belongs to one customer is never carried on to
 * the next: a cell that names another record ends what was carried of it, and of all that belongs to it.
 */
export class FillDown {
  private readonly above = new Map<number, Cell>();

  constructor(private readonly columns: readonly FilledColumn[]) {}

  /** The cells of a row, by column; rows go through in the order of the sheet. */
  through(row: Row): ReadonlyMap<number, CellContent> {
    for (const { column, field } of this.columns) {
      if (IDENTITY[field.entity].by === field.name && this.isOther(row, column)) this.endWhatBelongsTo(field.entity);
    }
    const cells = new Map<number, CellContent>();
    for (const { column, fillDown } of this.columns) {
      const content = row.cells[column] ?? null;
      const isEmpty = textOf(content).trim() === '';
      if (!isEmpty) this.above.set(column, content);
      const above = isEmpty && fillDown ? this.above.get(column) : undefined;
      cells.set(column, above === undefined ? { content, isFilled: false } : { content: above, isFilled: true });
    }
    return cells;
  }

  private isOther(row: Row, column: number): boolean {
    const text = textOf(row.cells[column]);
    return text.trim() !== '' && fold(text) !== fold(textOf(this.above.get(column)));
  }

  private endWhatBelongsTo(entity: ImportField['entity']): void {
    for (const { column, field } of this.columns) {
      if (field.entity === entity || isWithin(field.entity, entity)) this.above.delete(column);
    }
  }
}
