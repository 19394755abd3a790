-- Since when a circuit waits to be computed anew after a change that bears on many: until then it stands as before that change, and says so.
ALTER TABLE "circuit_standings" ADD COLUMN "awaits_since" TIMESTAMPTZ(6);
CREATE INDEX circuit_standings_awaiting_idx ON circuit_standings (organisation_id, customer_id) WHERE awaits_since IS NOT NULL;
