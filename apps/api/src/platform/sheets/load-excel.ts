/** The library of workbooks, the first time that one is read or written: it is large, and a start, a CSV file and most threads need none of it. */
export const loadExcel = async () => (await import('exceljs')).default;
