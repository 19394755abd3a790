-- Whoever has few jobs waiting goes before whoever has many: a person's place in the queue is the number of their own jobs that wait,
-- and of other people of their organisation who wait. 300 exports of one person then delay somebody else's job by one at the most.
ALTER TABLE jobs ADD COLUMN "place" INTEGER NOT NULL DEFAULT 0;

-- Counted with the eyes of whoever inserts: their own organisation's jobs, and no others.
CREATE FUNCTION queue.find_place() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS $$
BEGIN
  SELECT least(count(*) FILTER (WHERE j.requested_by IS NOT DISTINCT FROM NEW.requested_by)
             + count(DISTINCT j.requested_by) FILTER (WHERE j.requested_by IS DISTINCT FROM NEW.requested_by), 30000)
    INTO NEW.place
    FROM public.jobs j WHERE j.organisation_id = NEW.organisation_id AND j.state IN ('queued', 'running');
  RETURN NEW;
END $$;
REVOKE ALL ON FUNCTION queue.find_place() FROM PUBLIC;
CREATE TRIGGER jobs_find_place BEFORE INSERT ON jobs FOR EACH ROW EXECUTE FUNCTION queue.find_place();

CREATE OR REPLACE FUNCTION queue.enqueue_job() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog AS $$
BEGIN
  PERFORM graphile_worker.add_job('job',
    payload := json_build_object('organisationId', NEW.organisation_id, 'jobId', NEW.id), max_attempts := 25, priority := NEW.place);
  RETURN NULL;
END $$;
CREATE INDEX jobs_waiting_idx ON jobs (organisation_id) WHERE state IN ('queued', 'running');
