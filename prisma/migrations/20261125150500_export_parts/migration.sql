-- CreateTable
CREATE TABLE "export_parts" (
    "organisation_id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "bytes" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "export_parts_pkey" PRIMARY KEY ("organisation_id","job_id","sequence")
);

-- CreateIndex
CREATE INDEX "export_parts_organisation_id_created_at_idx" ON "export_parts"("organisation_id", "created_at");

-- AddForeignKey
ALTER TABLE "export_parts" ADD CONSTRAINT "export_parts_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "export_parts" ADD CONSTRAINT "export_parts_job_id_fkey" FOREIGN KEY ("organisation_id", "job_id") REFERENCES "jobs"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;



-- ---------------------------------------------------------------------------------------------------------------------
-- From here on: what the schema language of Prisma cannot say. test/tenancy asserts all of it from the catalogue.
-- ---------------------------------------------------------------------------------------------------------------------

-- An export is read by who asked for it, who is one of the jobs' requesters; a customer's people see none of it.
ALTER TABLE export_parts ENABLE ROW LEVEL SECURITY;
ALTER TABLE export_parts FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT, DELETE ON export_parts TO org_staff;
CREATE POLICY export_parts_staff_select ON export_parts FOR SELECT TO org_staff
  USING (organisation_id = current_organisation());
CREATE POLICY export_parts_staff_insert ON export_parts FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() = ANY ('{engineer,installer,lead,administrator}'::text[]));
CREATE POLICY export_parts_staff_delete ON export_parts FOR DELETE TO org_staff
  USING (organisation_id = current_organisation() AND current_role_name() = ANY ('{engineer,installer,lead,administrator}'::text[]));
