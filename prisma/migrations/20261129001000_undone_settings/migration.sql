-- Settings that an import brought and its undo took back. A reading that the file should never have brought must not stand among those
-- that somebody took, and none may be made up to cover it: the whole row moves here, as it was, and is kept.
CREATE TABLE "undone_settings" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "import_id" UUID NOT NULL,
    "entity" TEXT NOT NULL,
    "record" TEXT NOT NULL,
    "undone_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "undone_settings_pkey" PRIMARY KEY ("organisation_id","id")
);
ALTER TABLE "undone_settings" ADD CONSTRAINT "undone_settings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "undone_settings" ADD CONSTRAINT "undone_settings_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "undone_settings" ADD CONSTRAINT "undone_settings_import_id_fkey" FOREIGN KEY ("organisation_id", "import_id") REFERENCES "imports"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;
ALTER TABLE "undone_settings" ADD CONSTRAINT undone_settings_entity_check CHECK (entity IN ('target-setting','setup-record'));

ALTER TABLE undone_settings ENABLE ROW LEVEL SECURITY;
ALTER TABLE undone_settings FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT ON undone_settings TO org_staff;
CREATE POLICY undone_settings_staff_select ON undone_settings FOR SELECT TO org_staff USING (organisation_id = current_organisation());

-- The import that a transaction writes or takes back; nothing outside of one.
CREATE FUNCTION current_import() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE
  AS $$ SELECT nullif(current_setting('app.import_id', true), '')::uuid $$;
REVOKE ALL ON FUNCTION current_import() FROM PUBLIC;
GRANT EXECUTE ON FUNCTION current_import() TO org_staff;
CREATE POLICY undone_settings_staff_insert ON undone_settings FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND import_id = current_import()
              AND current_role_name() = ANY ('{engineer,administrator}'::text[]));

-- An administrator brings in what an engineer may; a setting by hand stays the engineer's. What an import brought, its undo takes away.
CREATE POLICY target_settings_import_insert ON target_settings FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND current_import() IS NOT NULL AND current_role_name() = 'administrator');
CREATE POLICY setup_records_import_insert ON setup_records FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND current_import() IS NOT NULL AND current_role_name() = 'administrator');
GRANT DELETE ON target_settings, setup_records TO org_staff;
CREATE POLICY target_settings_undo_delete ON target_settings FOR DELETE TO org_staff
  USING (organisation_id = current_organisation() AND current_import() IS NOT NULL
         AND current_role_name() = ANY ('{engineer,administrator}'::text[]));
CREATE POLICY setup_records_undo_delete ON setup_records FOR DELETE TO org_staff
  USING (organisation_id = current_organisation() AND current_import() IS NOT NULL
         AND current_role_name() = ANY ('{engineer,administrator}'::text[]));

-- Still append-only, for everybody: a row goes only once it is kept, to the letter, among what was undone.
CREATE FUNCTION refuse_change_unless_undone() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' AND EXISTS (SELECT 1 FROM undone_settings u WHERE u.organisation_id = OLD.organisation_id AND u.id = OLD.id
                                    AND u.record = to_jsonb(OLD)::text) THEN
    RETURN OLD;
  END IF;
  RAISE EXCEPTION '% is append-only', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END $$;
REVOKE ALL ON FUNCTION refuse_change_unless_undone() FROM PUBLIC;
DROP TRIGGER target_settings_append_only ON target_settings;
DROP TRIGGER setup_records_append_only ON setup_records;
CREATE TRIGGER target_settings_append_only BEFORE UPDATE OR DELETE ON target_settings
  FOR EACH ROW EXECUTE FUNCTION refuse_change_unless_undone();
CREATE TRIGGER setup_records_append_only BEFORE UPDATE OR DELETE ON setup_records
  FOR EACH ROW EXECUTE FUNCTION refuse_change_unless_undone();
