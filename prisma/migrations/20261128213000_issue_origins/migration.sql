-- Which part of the product opened an issue, and by what it knows it: one of a key is open at a time. Null: a person opened it.
ALTER TABLE "issues" ADD COLUMN "origin" TEXT, ADD COLUMN "origin_key" TEXT;
ALTER TABLE "issues" ADD CONSTRAINT "issues_origin_check" CHECK ((origin IS NULL) = (origin_key IS NULL));

-- What alarm rules have opened before was known by an entry of its evidence and by its circuit.
DO $$
DECLARE
  before bigint;
  changed bigint;
BEGIN
  ALTER TABLE issues NO FORCE ROW LEVEL SECURITY;
  SELECT count(*) INTO before FROM issues WHERE kind = 'alarm' AND evidence ? 'rule' AND circuit_id IS NOT NULL;
  UPDATE issues SET origin = 'alarm-rule', origin_key = coalesce(evidence ->> 'key', circuit_id::text), evidence = evidence - 'key'
  WHERE kind = 'alarm' AND evidence ? 'rule' AND circuit_id IS NOT NULL;
  GET DIAGNOSTICS changed = ROW_COUNT;
  ALTER TABLE issues FORCE ROW LEVEL SECURITY;
  IF changed <> before THEN RAISE EXCEPTION '% of % issues of alarm rules were changed', changed, before; END IF;
END $$;

DROP INDEX issues_one_by_alarm_rule_key;
CREATE UNIQUE INDEX issues_one_open_by_origin_key ON issues (organisation_id, origin, origin_key) WHERE state = 'open' AND origin IS NOT NULL;
CREATE INDEX issues_origin_idx ON issues (organisation_id, origin, origin_key, closed_at) WHERE state = 'closed' AND origin IS NOT NULL;
