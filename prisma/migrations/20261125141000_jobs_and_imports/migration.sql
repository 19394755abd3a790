-- AlterTable
ALTER TABLE "jobs" ADD COLUMN     "attempts" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "done" INTEGER,
ADD COLUMN     "step" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "total" INTEGER;

-- CreateTable
CREATE TABLE "file_contents" (
    "organisation_id" UUID NOT NULL,
    "file_id" UUID NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "file_contents_pkey" PRIMARY KEY ("organisation_id","file_id")
);

-- CreateTable
CREATE TABLE "imports" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "file_name" TEXT NOT NULL,
    "file_id" UUID,
    "rows_file_id" UUID,
    "state" TEXT NOT NULL DEFAULT 'new',
    "reading" JSONB,
    "fingerprint" TEXT NOT NULL DEFAULT '',
    "mapping" JSONB NOT NULL DEFAULT '{}',
    "counts" JSONB,
    "plan_digest" TEXT NOT NULL DEFAULT '',
    "job_id" UUID,
    "created_by" UUID NOT NULL,
    "created_by_name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "committed_at" TIMESTAMPTZ(6),
    "undone_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "imports_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "import_rows" (
    "organisation_id" UUID NOT NULL,
    "import_id" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "sheet" INTEGER NOT NULL,
    "row" INTEGER NOT NULL,
    "outcome" TEXT NOT NULL,
    "records" JSONB NOT NULL,
    "findings" JSONB NOT NULL,

    CONSTRAINT "import_rows_pkey" PRIMARY KEY ("organisation_id","import_id","sequence")
);

-- CreateTable
CREATE TABLE "import_changes" (
    "organisation_id" UUID NOT NULL,
    "import_id" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "entity" TEXT NOT NULL,
    "entity_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "operation" TEXT NOT NULL,
    "before" JSONB NOT NULL,
    "version_after" INTEGER NOT NULL,

    CONSTRAINT "import_changes_pkey" PRIMARY KEY ("organisation_id","import_id","sequence")
);

-- CreateTable
CREATE TABLE "import_mappings" (
    "organisation_id" UUID NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "mapping" JSONB NOT NULL,
    "saved_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "import_mappings_pkey" PRIMARY KEY ("organisation_id","fingerprint")
);

-- CreateIndex
CREATE INDEX "imports_organisation_id_created_at_id_idx" ON "imports"("organisation_id", "created_at", "id");

-- CreateIndex
CREATE INDEX "import_rows_organisation_id_import_id_outcome_sequence_idx" ON "import_rows"("organisation_id", "import_id", "outcome", "sequence");

-- AddForeignKey
ALTER TABLE "file_contents" ADD CONSTRAINT "file_contents_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "file_contents" ADD CONSTRAINT "file_contents_file_id_fkey" FOREIGN KEY ("organisation_id", "file_id") REFERENCES "files"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "imports" ADD CONSTRAINT "imports_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "imports" ADD CONSTRAINT "imports_file_id_fkey" FOREIGN KEY ("organisation_id", "file_id") REFERENCES "files"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "imports" ADD CONSTRAINT "imports_rows_file_id_fkey" FOREIGN KEY ("organisation_id", "rows_file_id") REFERENCES "files"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "import_rows" ADD CONSTRAINT "import_rows_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "import_rows" ADD CONSTRAINT "import_rows_import_id_fkey" FOREIGN KEY ("organisation_id", "import_id") REFERENCES "imports"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "import_changes" ADD CONSTRAINT "import_changes_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "import_changes" ADD CONSTRAINT "import_changes_import_id_fkey" FOREIGN KEY ("organisation_id", "import_id") REFERENCES "imports"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "import_mappings" ADD CONSTRAINT "import_mappings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;



-- ---------------------------------------------------------------------------------------------------------------------
-- From here on: what the schema language of Prisma cannot say. test/tenancy asserts all of it from the catalogue.
-- ---------------------------------------------------------------------------------------------------------------------

-- name, what staff may do (Select Insert Update Delete), which staff roles may write. A customer's people see none of it.
CREATE TEMPORARY TABLE access (name text, staff text, writers text[]) ON COMMIT DROP;
INSERT INTO access VALUES
  ('file_contents',   'SID', '{engineer,installer,lead,administrator}'),
  ('imports',         'SIU', '{engineer,administrator}'),
  ('import_rows',     'SID', '{engineer,administrator}'),
  ('import_changes',  'SI',  '{engineer,administrator}'),
  ('import_mappings', 'SIU', '{engineer,administrator}');

DO $$
DECLARE
  a record;
  own text := '(organisation_id = current_organisation())';
  writes text;
BEGIN
  FOR a IN SELECT * FROM access LOOP
    writes := format('(organisation_id = current_organisation() AND current_role_name() = ANY (%L::text[]))', a.writers);
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', a.name);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', a.name);
    EXECUTE format('GRANT SELECT ON %I TO org_staff', a.name);
    EXECUTE format('CREATE POLICY %I ON %I FOR SELECT TO org_staff USING %s', a.name || '_staff_select', a.name, own);
    EXECUTE format('GRANT INSERT ON %I TO org_staff', a.name);
    EXECUTE format('CREATE POLICY %I ON %I FOR INSERT TO org_staff WITH CHECK %s', a.name || '_staff_insert', a.name, writes);
    IF a.staff LIKE '%U%' THEN
      EXECUTE format('GRANT UPDATE ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR UPDATE TO org_staff USING %s WITH CHECK %s', a.name || '_staff_update', a.name, writes, writes);
    END IF;
    IF a.staff LIKE '%D%' THEN
      EXECUTE format('GRANT DELETE ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR DELETE TO org_staff USING %s', a.name || '_staff_delete', a.name, writes);
    END IF;
  END LOOP;
END $$;

-- The login that claims jobs sees whose they are, and nothing that they carry.
GRANT SELECT (organisation_id, id, kind, state, requested_by) ON jobs TO kedge_gate;
CREATE POLICY jobs_gate ON jobs FOR SELECT TO kedge_gate USING (true);

-- A job row and its place in the queue are one thing: whoever may write the row enqueues exactly that row, and nobody can
-- enqueue anything else. The queue's own tables are installed by the owner, after the migrations.
CREATE SCHEMA queue;
REVOKE ALL ON SCHEMA queue FROM PUBLIC;
CREATE FUNCTION queue.enqueue_job() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog AS $$
BEGIN
  PERFORM graphile_worker.add_job('job',
    payload := json_build_object('organisationId', NEW.organisation_id, 'jobId', NEW.id), max_attempts := 25);
  RETURN NULL;
END $$;
REVOKE ALL ON FUNCTION queue.enqueue_job() FROM PUBLIC;
CREATE TRIGGER jobs_enqueue AFTER INSERT ON jobs FOR EACH ROW EXECUTE FUNCTION queue.enqueue_job();

ALTER TABLE jobs ADD CONSTRAINT jobs_state_check CHECK (state IN ('queued','running','finished','failed','cancelled'));
ALTER TABLE jobs ADD CONSTRAINT jobs_progress_check CHECK (progress >= 0 AND progress <= 1);
ALTER TABLE imports ADD CONSTRAINT imports_state_check
  CHECK (state IN ('new','reading','unreadable','read','checking','checked','committing','committed','undoing','undone'));
ALTER TABLE import_rows ADD CONSTRAINT import_rows_outcome_check CHECK (outcome IN ('created','changed','unchanged','refused'));
