-- What the checks of time, order, reservoir, wiring and interlock stand on. Nothing is assumed for what is there: it is null until somebody says.

ALTER TABLE "power_units"
  ADD COLUMN "oil_viscosity_at40_m2_per_s" DOUBLE PRECISION,
  ADD COLUMN "oil_viscosity_at40_entered" JSONB,
  ADD COLUMN "oil_viscosity_at100_m2_per_s" DOUBLE PRECISION,
  ADD COLUMN "oil_viscosity_at100_entered" JSONB,
  ADD COLUMN "oil_density_kg_per_m3" DOUBLE PRECISION,
  ADD COLUMN "oil_density_entered" JSONB,
  ADD COLUMN "oil_bulk_modulus_pa" DOUBLE PRECISION,
  ADD COLUMN "oil_bulk_modulus_entered" JSONB,
  ADD COLUMN "oil_air_fraction" DOUBLE PRECISION,
  ADD COLUMN "cold_oil_temperature_k" DOUBLE PRECISION,
  ADD COLUMN "cold_oil_temperature_entered" JSONB,
  ADD COLUMN "working_oil_temperature_k" DOUBLE PRECISION,
  ADD COLUMN "working_oil_temperature_entered" JSONB,
  ADD CONSTRAINT "power_units_oil_viscosity_at40_entered_check"
    CHECK ((oil_viscosity_at40_m2_per_s IS NULL) = (oil_viscosity_at40_entered IS NULL)),
  ADD CONSTRAINT "power_units_oil_viscosity_at100_entered_check"
    CHECK ((oil_viscosity_at100_m2_per_s IS NULL) = (oil_viscosity_at100_entered IS NULL)),
  ADD CONSTRAINT "power_units_oil_density_entered_check"
    CHECK ((oil_density_kg_per_m3 IS NULL) = (oil_density_entered IS NULL)),
  ADD CONSTRAINT "power_units_oil_bulk_modulus_entered_check"
    CHECK ((oil_bulk_modulus_pa IS NULL) = (oil_bulk_modulus_entered IS NULL)),
  ADD CONSTRAINT "power_units_cold_oil_temperature_entered_check"
    CHECK ((cold_oil_temperature_k IS NULL) = (cold_oil_temperature_entered IS NULL)),
  ADD CONSTRAINT "power_units_working_oil_temperature_entered_check"
    CHECK ((working_oil_temperature_k IS NULL) = (working_oil_temperature_entered IS NULL)),
  ADD CONSTRAINT "power_units_oil_air_fraction_check" CHECK (oil_air_fraction >= 0 AND oil_air_fraction <= 1);

ALTER TABLE "circuits"
  ADD COLUMN "valve_behaviour" TEXT,
  ADD COLUMN "is_check_held" BOOLEAN,
  ADD COLUMN "needs_open_proof" BOOLEAN,
  ADD COLUMN "has_open_proof" BOOLEAN,
  ADD COLUMN "return_pressure_pa" DOUBLE PRECISION,
  ADD COLUMN "return_pressure_entered" JSONB,
  ADD CONSTRAINT "circuits_return_pressure_entered_check"
    CHECK ((return_pressure_pa IS NULL) = (return_pressure_entered IS NULL)),
  ADD CONSTRAINT "circuits_valve_behaviour_check"
    CHECK (valve_behaviour IN ('double-detented', 'double-centred', 'single-rests-clamped', 'single-rests-unclamped'));

ALTER TABLE "setup_records"
  ADD COLUMN "contact_time_s" DOUBLE PRECISION,
  ADD COLUMN "contact_time_entered" JSONB,
  ADD COLUMN "time_tolerance_s" DOUBLE PRECISION,
  ADD COLUMN "time_tolerance_entered" JSONB,
  ADD CONSTRAINT "setup_records_contact_time_entered_check"
    CHECK ((contact_time_s IS NULL) = (contact_time_entered IS NULL)),
  ADD CONSTRAINT "setup_records_time_tolerance_entered_check"
    CHECK ((time_tolerance_s IS NULL) = (time_tolerance_entered IS NULL));
