-- The least probability with which a check must hold; below it the check fails, although stated tolerances hold.
ALTER TABLE "organisations" ADD COLUMN "least_probability" DOUBLE PRECISION NOT NULL DEFAULT 0.95;
ALTER TABLE "organisations" ADD CONSTRAINT "organisations_least_probability_check" CHECK (least_probability >= 0 AND least_probability < 1);
GRANT UPDATE (least_probability) ON organisations TO org_staff;
