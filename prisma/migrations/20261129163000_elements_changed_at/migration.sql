-- What was read while a neighbour of the same power unit clamped holds for the clamps and supports that it had. When something that oil
-- moves was last made another one; what is filled in that was not known before, and locators, change nothing. Null: never since it was made.
ALTER TABLE "fixtures" ADD COLUMN "elements_changed_at" TIMESTAMPTZ(6);

CREATE FUNCTION note_elements_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    SELECT 1
    FROM jsonb_array_elements(OLD.elements) AS o(was)
    FULL JOIN jsonb_array_elements(NEW.elements) AS n(now) ON was ->> 'id' = now ->> 'id'
    WHERE coalesce(was ->> 'kind', now ->> 'kind') <> 'locator'
      AND (was IS NULL OR now IS NULL
           OR was ->> 'kind' <> now ->> 'kind' OR was ->> 'quantity' <> now ->> 'quantity'
           OR was ->> 'form' <> now ->> 'form' OR was ->> 'acting' <> now ->> 'acting'
           OR was ->> 'pulls' <> now ->> 'pulls'
           OR was -> 'si' ->> 'boreM' <> now -> 'si' ->> 'boreM'
           OR was -> 'si' ->> 'rodM' <> now -> 'si' ->> 'rodM'
           OR was -> 'si' ->> 'strokeM' <> now -> 'si' ->> 'strokeM')
  ) THEN
    NEW.elements_changed_at := now();
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER fixtures_elements_changed BEFORE UPDATE OF elements ON fixtures
  FOR EACH ROW WHEN (OLD.elements IS DISTINCT FROM NEW.elements) EXECUTE FUNCTION note_elements_changed();
