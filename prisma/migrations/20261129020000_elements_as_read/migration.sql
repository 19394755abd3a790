-- What was read at a machine holds for the clamps and supports that were on it. A setup record keeps them as they were when it was
-- recorded; of records from before it is null: nobody kept them.
ALTER TABLE "setup_records" ADD COLUMN "fixture_elements" JSONB;

CREATE FUNCTION keep_elements_as_read() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.fixture_id IS NOT NULL AND NEW.fixture_elements IS NULL THEN
    SELECT f.elements INTO NEW.fixture_elements
    FROM fixtures f WHERE f.organisation_id = NEW.organisation_id AND f.id = NEW.fixture_id;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER setup_records_elements_as_read BEFORE INSERT ON setup_records
  FOR EACH ROW EXECUTE FUNCTION keep_elements_as_read();
