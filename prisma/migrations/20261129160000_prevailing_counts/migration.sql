-- Which of several reports of an interval counts has a word of its own; a standing is how a circuit stands.
ALTER TABLE "alarm_counts" RENAME COLUMN "stands" TO "prevails";
UPDATE "findings" SET "settlement" = 'prevails: ' || substr("settlement", length('stands: ') + 1) WHERE "settlement" LIKE 'stands: %';
