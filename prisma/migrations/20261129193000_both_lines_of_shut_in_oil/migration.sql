-- Oil that is shut in in the unclamp line gives way by a figure of its own: beside a clamp line with a hose it is often the stiffer one.
-- Behind a reducing valve of two ports oil is shut in as behind a check valve; one of three lets it out to the tank. Null: nobody has said.
ALTER TABLE "circuits"
  ADD COLUMN "unclamp_bulk_modulus_pa" DOUBLE PRECISION,
  ADD COLUMN "unclamp_bulk_modulus_entered" JSONB,
  ADD COLUMN "reducing_valve_relieves" BOOLEAN,
  ADD CONSTRAINT "circuits_unclamp_bulk_modulus_entered_check"
    CHECK (("unclamp_bulk_modulus_entered" IS NULL) = ("unclamp_bulk_modulus_pa" IS NULL));
