import type { ReactNode } from 'react';
import styles from './table.module.css';

export interface Column<T> {
  key: string;
  title: string;
  cell: (row: T) => ReactNode;
  isNumber?: boolean;
  /** the cell that names its row */
  isName?: boolean;
  /** what can be done with the row: its title is heard, not seen */
  isActions?: boolean;
}

/** A plain ruled table; at narrow widths each row becomes a block with the columns' names in it. */
export function Table<T>({
  columns,
  rows,
  rowKey,
  caption,
}: {
  columns: readonly Column<T>[];
  rows: readonly T[];
  rowKey: (row: T) => string;
  caption: string;
}) {
  return (
    <div className={styles['wrap']}>
      <table className={`${styles['table']} ${styles['stacks']}`}>
        <caption className="heard">{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.key} scope="col" className={column.isNumber ? styles['number'] : undefined}>
                {column.isActions ? <span className="heard">{column.title}</span> : column.title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={rowKey(row)}>
              {columns.map((column) =>
                column.isName ? (
                  <th key={column.key} scope="row">
                    {column.cell(row)}
                  </th>
                ) : (
                  <td
                    key={column.key}
                    data-label={column.isActions ? undefined : column.title}
                    className={column.isNumber ? styles['number'] : undefined}
                  >
                    <span>{column.cell(row)}</span>
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export { styles as tableStyles };
