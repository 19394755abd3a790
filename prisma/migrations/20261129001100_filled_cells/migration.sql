-- Cells of a row that were empty and took over what stands above them, as somebody asked of their column.
ALTER TABLE "import_rows" ADD COLUMN "filled" TEXT[] DEFAULT ARRAY[]::TEXT[];
