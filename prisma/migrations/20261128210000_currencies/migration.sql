-- Whether a sizing record is still good is its currency; a standing is how a circuit stands. The rows, their policies and their grants stay.
ALTER TABLE "sizing_standings" RENAME TO "sizing_currencies";
ALTER TABLE "sizing_currencies" RENAME COLUMN "standing" TO "currency";
DO $$
DECLARE
  former record;
BEGIN
  FOR former IN
    SELECT conname AS name, replace(replace(conname, 'sizing_standings', 'sizing_currencies'), '_standing_', '_currency_') AS new_name
    FROM pg_constraint WHERE conrelid = 'sizing_currencies'::regclass AND conname LIKE 'sizing\_standings%'
  LOOP
    EXECUTE format('ALTER TABLE sizing_currencies RENAME CONSTRAINT %I TO %I', former.name, former.new_name);
  END LOOP;
  FOR former IN
    SELECT c.relname AS name, replace(replace(c.relname, 'sizing_standings', 'sizing_currencies'), '_standing_', '_currency_') AS new_name
    FROM pg_index i JOIN pg_class c ON c.oid = i.indexrelid
    WHERE i.indrelid = 'sizing_currencies'::regclass AND c.relname LIKE 'sizing\_standings%'
  LOOP
    EXECUTE format('ALTER INDEX %I RENAME TO %I', former.name, former.new_name);
  END LOOP;
END $$;
-- What still asks for the former name while the new version takes over reads and writes the same rows, as whom it asks.
CREATE VIEW "sizing_standings" WITH (security_invoker = true) AS
  SELECT organisation_id, customer_id, sizing_record_id, circuit_id, currency AS standing, reasons, changed_at FROM "sizing_currencies";
DO $$
DECLARE
  given record;
BEGIN
  FOR given IN
    SELECT grantee, privilege_type FROM information_schema.role_table_grants
    WHERE table_schema = current_schema() AND table_name = 'sizing_currencies' AND privilege_type IN ('SELECT', 'INSERT', 'UPDATE')
  LOOP
    EXECUTE format('GRANT %s ON sizing_standings TO %I', given.privilege_type, given.grantee);
  END LOOP;
END $$;
