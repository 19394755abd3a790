-- Alarm counts from gateways: exactly once, in any order.

-- A row of counts is told from another by what it says: circuit, interval, revision and a hash of its numbers. The same
-- report that comes again finds itself; another report of the same revision stands beside it until somebody decides.
ALTER TABLE "alarm_counts" ADD COLUMN "numbers_hash" BIGINT;
ALTER TABLE "alarm_counts" ADD COLUMN "stands" BOOLEAN NOT NULL DEFAULT true;
ALTER TABLE "alarm_counts" ADD COLUMN "chosen_at" TIMESTAMPTZ(6);
DO $$
DECLARE
  before bigint;
  after bigint;
  relation text;
BEGIN
  -- Every partition forces row security; the owner lifts it for this one statement and puts it back.
  FOR relation IN SELECT 'alarm_counts' UNION ALL SELECT inhrelid::regclass::text FROM pg_inherits WHERE inhparent = 'alarm_counts'::regclass LOOP
    EXECUTE format('ALTER TABLE %s NO FORCE ROW LEVEL SECURITY', relation);
  END LOOP;
  SELECT count(*) INTO before FROM alarm_counts;
  UPDATE alarm_counts SET numbers_hash = 0;
  GET DIAGNOSTICS after = ROW_COUNT;
  IF before <> after THEN RAISE EXCEPTION 'counts: % rows, % changed', before, after; END IF;
  FOR relation IN SELECT 'alarm_counts' UNION ALL SELECT inhrelid::regclass::text FROM pg_inherits WHERE inhparent = 'alarm_counts'::regclass LOOP
    EXECUTE format('ALTER TABLE %s FORCE ROW LEVEL SECURITY', relation);
  END LOOP;
END $$;
ALTER TABLE "alarm_counts" ALTER COLUMN "numbers_hash" SET NOT NULL;
ALTER TABLE "alarm_counts" DROP CONSTRAINT "alarm_counts_pkey";
ALTER TABLE "alarm_counts" DROP COLUMN "id";
ALTER TABLE "alarm_counts" ADD CONSTRAINT "alarm_counts_pkey"
  PRIMARY KEY ("organisation_id","circuit_id","from_at","to_at","revision","numbers_hash");
-- The key begins with the same three columns.
DROP INDEX "alarm_counts_organisation_id_circuit_id_from_at_idx";

ALTER TABLE "deliveries" ADD COLUMN "intervals" INTEGER NOT NULL DEFAULT 0;
ALTER TABLE "deliveries" ADD COLUMN "set_aside" INTEGER NOT NULL DEFAULT 0;
ALTER TABLE "deliveries" ADD COLUMN "sent_at" TIMESTAMPTZ(6);
ALTER TABLE "deliveries" DROP COLUMN "body", DROP COLUMN "finding";
DROP INDEX "deliveries_organisation_id_received_at_id_idx";
CREATE INDEX "deliveries_organisation_id_source_id_received_at_id_idx" ON "deliveries"("organisation_id", "source_id", "received_at", "id");
-- For the upkeep, which asks for age alone.
CREATE INDEX "deliveries_received_at_idx" ON "deliveries"("received_at");

-- A finding outlives the receipt of its delivery.
ALTER TABLE "findings" DROP CONSTRAINT "findings_delivery_id_fkey";
ALTER TABLE "findings" DROP COLUMN "delivery_id";
ALTER TABLE "findings" ADD COLUMN "key" TEXT NOT NULL;
ALTER TABLE "findings" ADD COLUMN "subject" TEXT NOT NULL DEFAULT '';
ALTER TABLE "findings" ADD COLUMN "webhook_id" TEXT NOT NULL DEFAULT '';
ALTER TABLE "findings" ADD COLUMN "circuit_id" UUID;
ALTER TABLE "findings" ADD COLUMN "state" TEXT NOT NULL DEFAULT 'open';
ALTER TABLE "findings" ADD CONSTRAINT "findings_state_check" CHECK (state IN ('open', 'settled', 'taken-in', 'dismissed', 'superseded'));
CREATE UNIQUE INDEX "findings_organisation_id_key_key" ON "findings"("organisation_id", "key");
CREATE INDEX "findings_organisation_id_source_id_state_found_at_id_idx" ON "findings"("organisation_id", "source_id", "state", "found_at", "id");
CREATE INDEX "findings_organisation_id_circuit_id_idx" ON "findings"("organisation_id", "circuit_id");

-- After so long without a word a source counts as silent.
ALTER TABLE "sources" ADD COLUMN "silent_after_s" INTEGER NOT NULL DEFAULT 7200;
ALTER TABLE "sources" ADD CONSTRAINT "sources_silent_after_check" CHECK (silent_after_s > 0);

-- So many alarms within a window open an issue. Without a circuit: the organisation's rule for all that have none of their own.
CREATE TABLE "alarm_rules" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "customer_id" UUID,
    "circuit_id" UUID,
    "alarm_kind" TEXT,
    "threshold" INTEGER NOT NULL,
    "window_s" INTEGER NOT NULL,
    "is_on" BOOLEAN NOT NULL DEFAULT true,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "alarm_rules_pkey" PRIMARY KEY ("organisation_id","id")
);
CREATE UNIQUE INDEX "alarm_rules_organisation_id_circuit_id_key" ON "alarm_rules"("organisation_id", "circuit_id");
ALTER TABLE "alarm_rules" ADD CONSTRAINT "alarm_rules_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "alarm_rules" ADD CONSTRAINT "alarm_rules_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;
CREATE UNIQUE INDEX alarm_rules_one_default_key ON alarm_rules (organisation_id) WHERE circuit_id IS NULL;
ALTER TABLE "alarm_rules" ADD CONSTRAINT "alarm_rules_size_check" CHECK (threshold > 0 AND window_s > 0 AND (circuit_id IS NULL) = (customer_id IS NULL));

-- One open issue a circuit by its rule.
CREATE UNIQUE INDEX issues_one_by_alarm_rule_key ON issues (organisation_id, circuit_id)
  WHERE kind = 'alarm' AND state = 'open' AND evidence ? 'rule';

ALTER TABLE alarm_rules ENABLE ROW LEVEL SECURITY;
ALTER TABLE alarm_rules FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT, UPDATE, DELETE ON alarm_rules TO org_staff;
CREATE POLICY alarm_rules_staff_select ON alarm_rules FOR SELECT TO org_staff USING (organisation_id = current_organisation());
CREATE POLICY alarm_rules_staff_insert ON alarm_rules FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() = ANY ('{engineer,lead,administrator}'::text[]));
CREATE POLICY alarm_rules_staff_update ON alarm_rules FOR UPDATE TO org_staff
  USING (organisation_id = current_organisation() AND current_role_name() = ANY ('{engineer,lead,administrator}'::text[]))
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() = ANY ('{engineer,lead,administrator}'::text[]));
CREATE POLICY alarm_rules_staff_delete ON alarm_rules FOR DELETE TO org_staff
  USING (organisation_id = current_organisation() AND current_role_name() = ANY ('{engineer,lead,administrator}'::text[]));

-- A gateway's transaction is of the role `source`: receipts, counts, findings and when it was heard. Opening an issue by a
-- rule is a role of its own. Which counts stand may be decided by people as well.
GRANT UPDATE (webhook_id, source_id, stands, chosen_at) ON alarm_counts TO org_staff;
GRANT DELETE ON source_machines TO org_staff;
DO $$
DECLARE
  a record;
  writes text;
BEGIN
  FOR a IN SELECT * FROM (VALUES
    ('deliveries',      'INSERT', '{source}', 'source'),
    ('alarm_counts',    'INSERT', '{source}', 'source'),
    ('alarm_counts',    'UPDATE', '{source,lead,administrator}', 'standing'),
    ('findings',        'INSERT', '{source}', 'source'),
    ('findings',        'UPDATE', '{source}', 'source'),
    ('sources',         'UPDATE', '{source}', 'source'),
    ('source_machines', 'DELETE', '{lead,administrator}', 'staff'),
    ('issues',          'INSERT', '{alarm-rule}', 'rule'),
    ('issues',          'UPDATE', '{alarm-rule}', 'rule'),
    ('number_counters', 'INSERT', '{alarm-rule}', 'rule'),
    ('number_counters', 'UPDATE', '{alarm-rule}', 'rule'),
    ('audit_entries',   'INSERT', '{alarm-rule}', 'rule')
  ) AS v (name, verb, writers, who) LOOP
    writes := format('(organisation_id = current_organisation() AND current_role_name() = ANY (%L::text[]))', a.writers);
    EXECUTE format('CREATE POLICY %I ON %I FOR %s TO org_staff %s %s', a.name || '_' || a.who || '_' || lower(a.verb), a.name, a.verb,
      CASE WHEN a.verb = 'INSERT' THEN '' ELSE 'USING ' || writes END,
      CASE WHEN a.verb = 'DELETE' THEN '' ELSE 'WITH CHECK ' || writes END);
  END LOOP;
END $$;

-- Of a source itself its gateway may change when it was heard and how far its clock is off, and nothing else.
CREATE FUNCTION guard_source() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF current_role_name() = 'source' AND (NEW.organisation_id, NEW.id, NEW.name, NEW.created_at, NEW.archived_at, NEW.version, NEW.silent_after_s)
    IS DISTINCT FROM (OLD.organisation_id, OLD.id, OLD.name, OLD.created_at, OLD.archived_at, OLD.version, OLD.silent_after_s) THEN
    RAISE EXCEPTION 'a gateway changes nothing of its source' USING ERRCODE = 'insufficient_privilege';
  END IF;
  RETURN NEW;
END $$;
REVOKE ALL ON FUNCTION guard_source() FROM PUBLIC;
CREATE TRIGGER sources_guard BEFORE UPDATE ON sources FOR EACH ROW EXECUTE FUNCTION guard_source();

-- Upkeep, by the owner: receipts that no retry can ask for any more. The policy names the age, so no slip can take more.
CREATE POLICY deliveries_upkeep_select ON deliveries FOR SELECT TO CURRENT_USER USING (received_at < now() - interval '30 days');
CREATE POLICY deliveries_upkeep_delete ON deliveries FOR DELETE TO CURRENT_USER USING (received_at < now() - interval '30 days');
