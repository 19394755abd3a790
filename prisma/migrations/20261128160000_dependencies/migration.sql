-- What the proof of each circuit looked up when it was last computed. Whoever changes one of these pairs computes the circuit anew: no
-- list of what hangs on what is kept by hand.
CREATE TABLE "circuit_dependencies" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "circuit_id" UUID NOT NULL,
    "entity" TEXT NOT NULL,
    "entity_id" UUID NOT NULL,

    CONSTRAINT "circuit_dependencies_pkey" PRIMARY KEY ("organisation_id","circuit_id","entity","entity_id")
);
CREATE INDEX "circuit_dependencies_organisation_id_entity_entity_id_idx" ON "circuit_dependencies"("organisation_id", "entity", "entity_id");
ALTER TABLE "circuit_dependencies" ADD CONSTRAINT "circuit_dependencies_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "circuit_dependencies" ADD CONSTRAINT "circuit_dependencies_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "circuit_dependencies" ADD CONSTRAINT "circuit_dependencies_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- By which version of the calculations a standing was computed; those from before say none, and are computed anew.
ALTER TABLE "circuit_standings" ADD COLUMN "calculation_version" TEXT NOT NULL DEFAULT '';
CREATE INDEX "circuit_standings_organisation_id_calculation_version_idx" ON "circuit_standings"("organisation_id", "calculation_version");
CREATE INDEX circuit_standings_waiting_idx ON circuit_standings (organisation_id, circuit_id) WHERE awaits_since IS NOT NULL;

-- What was there before: every circuit stands on all that could bear on it, until it is computed anew; every sizing record keeps what it
-- was known to stand on, in the new words, and what was forgotten then: the margins asked, and the valves of the whole machine.
DO $$
DECLARE
  name text;
  tables text[] := ARRAY['circuits', 'machines', 'installed_components', 'fixture_fittings', 'sizing_records', 'sizing_dependencies',
                         'circuit_standings'];
  circuits_before bigint;
  covered bigint;
BEGIN
  FOREACH name IN ARRAY tables LOOP EXECUTE format('ALTER TABLE %I NO FORCE ROW LEVEL SECURITY', name); END LOOP;
  CREATE TEMPORARY TABLE stands_on ON COMMIT DROP AS
    SELECT c.organisation_id, c.customer_id, c.id AS circuit_id, pair.entity, pair.id AS entity_id
    FROM circuits c JOIN machines m ON m.organisation_id = c.organisation_id AND m.id = c.machine_id
    CROSS JOIN LATERAL (VALUES
      ('margins-asked', c.organisation_id), ('customer', c.customer_id), ('site', m.site_id), ('machine', c.machine_id),
      ('circuits-of-machine', c.machine_id), ('control-of-machine', c.machine_id), ('power-unit', c.power_unit_id),
      ('circuits-of-power-unit', c.power_unit_id), ('components-of-power-unit', c.power_unit_id),
      ('target-settings-of-circuit', c.id), ('setup-records-of-circuit', c.id)) AS pair (entity, id)
    UNION
    SELECT c.organisation_id, c.customer_id, c.id, pair.entity, pair.id
    FROM circuits c JOIN circuits n ON n.organisation_id = c.organisation_id AND n.machine_id = c.machine_id
    CROSS JOIN LATERAL (VALUES
      ('circuit', n.id), ('components-of-circuit', n.id), ('fitting-of-station', n.station_id)) AS pair (entity, id)
    UNION
    SELECT c.organisation_id, c.customer_id, c.id, 'component-type', i.component_type_id
    FROM circuits c JOIN installed_components i ON i.organisation_id = c.organisation_id AND i.machine_id = c.machine_id
    WHERE i.valid_to IS NULL
    UNION
    SELECT c.organisation_id, c.customer_id, c.id, pair.entity, f.fixture_id
    FROM circuits c JOIN circuits n ON n.organisation_id = c.organisation_id AND n.machine_id = c.machine_id
    JOIN fixture_fittings f ON f.organisation_id = n.organisation_id AND f.station_id = n.station_id AND f.valid_to IS NULL
    CROSS JOIN (VALUES ('fixture'), ('operations-of-fixture')) AS pair (entity);
  INSERT INTO circuit_dependencies SELECT * FROM stands_on;

  INSERT INTO sizing_dependencies (organisation_id, customer_id, sizing_record_id, entity, entity_id)
    SELECT d.organisation_id, d.customer_id, d.sizing_record_id, pair.entity, d.entity_id
    FROM sizing_dependencies d
    JOIN (VALUES ('circuit', 'components-of-circuit'), ('machine', 'circuits-of-machine'), ('machine', 'control-of-machine'),
                 ('power-unit', 'circuits-of-power-unit'), ('power-unit', 'components-of-power-unit'), ('station', 'fitting-of-station'),
                 ('fixture', 'operations-of-fixture'), ('target-settings', 'target-settings-of-circuit'),
                 ('setup-records', 'setup-records-of-circuit')) AS pair (was, entity) ON pair.was = d.entity
    UNION
    SELECT r.organisation_id, r.customer_id, r.id, s.entity, s.entity_id
    FROM sizing_records r JOIN stands_on s ON s.organisation_id = r.organisation_id AND s.circuit_id = r.circuit_id
    WHERE s.entity IN ('margins-asked', 'circuit', 'components-of-circuit', 'component-type')
    ON CONFLICT DO NOTHING;

  SELECT count(*) INTO circuits_before FROM circuits;
  SELECT count(DISTINCT circuit_id) INTO covered FROM circuit_dependencies;
  IF circuits_before <> covered THEN RAISE EXCEPTION 'of % circuits % were given what they stand on', circuits_before, covered; END IF;
  FOREACH name IN ARRAY tables LOOP EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name); END LOOP;
END $$;

ALTER TABLE circuit_dependencies ENABLE ROW LEVEL SECURITY;
ALTER TABLE circuit_dependencies FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT, DELETE ON circuit_dependencies TO org_staff;
CREATE POLICY circuit_dependencies_staff_select ON circuit_dependencies FOR SELECT TO org_staff
  USING (organisation_id = current_organisation());
CREATE POLICY circuit_dependencies_staff_insert ON circuit_dependencies FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() IN ('engineer', 'installer', 'lead', 'administrator'));
CREATE POLICY circuit_dependencies_staff_delete ON circuit_dependencies FOR DELETE TO org_staff
  USING (organisation_id = current_organisation() AND current_role_name() IN ('engineer', 'installer', 'lead', 'administrator'));
