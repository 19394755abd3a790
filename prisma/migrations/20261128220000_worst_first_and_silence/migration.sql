-- Within a status the fleet lists first what is farthest from safe: by demand over capacity, then by probability. Both grow downwards, as
-- the status rank does; what was computed before is ranked when it is computed again.
ALTER TABLE "circuit_standings" ADD COLUMN "ratio_rank" DOUBLE PRECISION NOT NULL DEFAULT 0,
                                ADD COLUMN "probability_rank" DOUBLE PRECISION NOT NULL DEFAULT 1;
DROP INDEX "circuit_standings_organisation_id_status_rank_sort_key_circ_idx";
DROP INDEX "circuit_standings_organisation_id_customer_id_status_rank_s_idx";
CREATE INDEX "circuit_standings_worst_first_idx"
  ON "circuit_standings"("organisation_id", "status_rank", "ratio_rank", "probability_rank", "sort_key", "circuit_id");
CREATE INDEX "circuit_standings_worst_of_customer_idx"
  ON "circuit_standings"("organisation_id", "customer_id", "status_rank", "ratio_rank", "probability_rank", "sort_key", "circuit_id");

-- Until when each machine that a source reports of has reported, and since when it is silent: no count is not a count of zero.
CREATE TABLE "machine_reports" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "reported_until" TIMESTAMPTZ(6),
    "silent_since" TIMESTAMPTZ(6),
    "is_told" BOOLEAN NOT NULL DEFAULT false,
    "due_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "machine_reports_pkey" PRIMARY KEY ("organisation_id","machine_id")
);
ALTER TABLE "machine_reports" ADD CONSTRAINT "machine_reports_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "machine_reports" ADD CONSTRAINT "machine_reports_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "machine_reports" ADD CONSTRAINT "machine_reports_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;
CREATE INDEX "machine_reports_organisation_id_due_at_idx" ON "machine_reports"("organisation_id", "due_at");
CREATE INDEX "source_machines_organisation_id_machine_id_idx" ON "source_machines"("organisation_id", "machine_id");

ALTER TABLE machine_reports ENABLE ROW LEVEL SECURITY;
ALTER TABLE machine_reports FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT, UPDATE, DELETE ON machine_reports TO org_staff;
GRANT SELECT ON machine_reports TO org_customer;
CREATE POLICY machine_reports_staff_select ON machine_reports FOR SELECT TO org_staff USING (organisation_id = current_organisation());
CREATE POLICY machine_reports_staff_insert ON machine_reports FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() = ANY ('{lead,administrator}'::text[]));
CREATE POLICY machine_reports_staff_update ON machine_reports FOR UPDATE TO org_staff
  USING (organisation_id = current_organisation() AND current_role_name() = ANY ('{lead,administrator}'::text[]))
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() = ANY ('{lead,administrator}'::text[]));
CREATE POLICY machine_reports_staff_delete ON machine_reports FOR DELETE TO org_staff
  USING (organisation_id = current_organisation() AND current_role_name() = ANY ('{lead,administrator}'::text[]));
CREATE POLICY machine_reports_customer_select ON machine_reports FOR SELECT TO org_customer
  USING (organisation_id = current_organisation() AND customer_id = current_customer());

-- A machine is looked at from when a source begins to report of it, and again whenever what is expected of its sources changes.
CREATE FUNCTION look_at_machine_reports() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_TABLE_NAME = 'sources' THEN
    UPDATE machine_reports r SET due_at = now() FROM source_machines m
    WHERE m.organisation_id = NEW.organisation_id AND m.source_id = NEW.id
      AND r.organisation_id = m.organisation_id AND r.machine_id = m.machine_id;
  ELSIF TG_OP = 'INSERT' THEN
    INSERT INTO machine_reports (organisation_id, customer_id, machine_id) VALUES (NEW.organisation_id, NEW.customer_id, NEW.machine_id)
    ON CONFLICT (organisation_id, machine_id) DO UPDATE SET due_at = now();
  ELSE
    DELETE FROM machine_reports r WHERE r.organisation_id = OLD.organisation_id AND r.machine_id = OLD.machine_id
      AND NOT EXISTS (SELECT FROM source_machines m WHERE m.organisation_id = OLD.organisation_id AND m.machine_id = OLD.machine_id);
  END IF;
  RETURN NULL;
END $$;
REVOKE ALL ON FUNCTION look_at_machine_reports() FROM PUBLIC;
CREATE TRIGGER source_machines_reports AFTER INSERT OR DELETE ON source_machines
  FOR EACH ROW EXECUTE FUNCTION look_at_machine_reports();
CREATE TRIGGER sources_reports AFTER UPDATE OF silent_after_s, archived_at ON sources
  FOR EACH ROW EXECUTE FUNCTION look_at_machine_reports();

DO $$
DECLARE
  mapped bigint;
  made bigint;
BEGIN
  ALTER TABLE source_machines NO FORCE ROW LEVEL SECURITY;
  ALTER TABLE machine_reports NO FORCE ROW LEVEL SECURITY;
  SELECT count(DISTINCT (organisation_id, machine_id)) INTO mapped FROM source_machines;
  INSERT INTO machine_reports (organisation_id, customer_id, machine_id)
  SELECT DISTINCT organisation_id, customer_id, machine_id FROM source_machines;
  GET DIAGNOSTICS made = ROW_COUNT;
  ALTER TABLE machine_reports FORCE ROW LEVEL SECURITY;
  ALTER TABLE source_machines FORCE ROW LEVEL SECURITY;
  IF made <> mapped THEN RAISE EXCEPTION '% of % machines would be looked at', made, mapped; END IF;
END $$;
