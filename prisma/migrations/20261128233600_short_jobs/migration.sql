-- Short jobs have a slot of their own in every worker: whoever waits for a small file never waits until a large one is done.
ALTER TABLE jobs ADD COLUMN "is_short" BOOLEAN NOT NULL DEFAULT false;

CREATE OR REPLACE FUNCTION queue.enqueue_job() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog AS $$
BEGIN
  PERFORM graphile_worker.add_job('job',
    payload := json_build_object('organisationId', NEW.organisation_id, 'jobId', NEW.id), max_attempts := 25, priority := NEW.place,
    flags := CASE WHEN NEW.is_short THEN NULL ELSE ARRAY['long'] END);
  RETURN NULL;
END $$;
