-- How far from 20 °C the gauges of a power unit are read at most. It is null until somebody says.
ALTER TABLE "power_units"
  ADD COLUMN "gauge_off_reference_k" DOUBLE PRECISION,
  ADD COLUMN "gauge_off_reference_entered" JSONB,
  ADD CONSTRAINT "power_units_gauge_off_reference_entered_check"
    CHECK ((gauge_off_reference_k IS NULL) = (gauge_off_reference_entered IS NULL));
