-- What the checks of a shared supply and of a circuit without supply stand on. Nothing is assumed for what is there: it is null until somebody says.
ALTER TABLE "circuits"
  ADD COLUMN "is_decoupled" BOOLEAN,
  ADD COLUMN "time_without_supply_s" DOUBLE PRECISION,
  ADD COLUMN "time_without_supply_entered" JSONB,
  ADD COLUMN "cooling_without_supply_k" DOUBLE PRECISION,
  ADD COLUMN "cooling_without_supply_entered" JSONB,
  ADD COLUMN "is_proved_again" BOOLEAN,
  ADD CONSTRAINT "circuits_time_without_supply_entered_check"
    CHECK ((time_without_supply_s IS NULL) = (time_without_supply_entered IS NULL)),
  ADD CONSTRAINT "circuits_cooling_without_supply_entered_check"
    CHECK ((cooling_without_supply_k IS NULL) = (cooling_without_supply_entered IS NULL));

ALTER TABLE "setup_records"
  ADD COLUMN "lowest_while_shared_pa" DOUBLE PRECISION,
  ADD COLUMN "lowest_while_shared_entered" JSONB,
  ADD CONSTRAINT "setup_records_lowest_while_shared_entered_check"
    CHECK ((lowest_while_shared_pa IS NULL) = (lowest_while_shared_entered IS NULL));
