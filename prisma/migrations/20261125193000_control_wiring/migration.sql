-- What the checks of control wiring and interlock stand on. Nothing is assumed for what is there: it is null until somebody says.

ALTER TABLE "wires"
  ADD COLUMN "protection_a" DOUBLE PRECISION,
  ADD COLUMN "conductor_limit_a" DOUBLE PRECISION,
  ADD COLUMN "highest_in_cable_v" DOUBLE PRECISION,
  ADD CONSTRAINT "wires_protection_a_check" CHECK (protection_a > 0),
  ADD CONSTRAINT "wires_conductor_limit_a_check" CHECK (conductor_limit_a > 0),
  ADD CONSTRAINT "wires_highest_in_cable_v_check" CHECK (highest_in_cable_v >= 0);

ALTER TABLE "signals"
  ADD COLUMN "suppression" TEXT,
  ADD COLUMN "suppression_voltage_v" DOUBLE PRECISION,
  ADD COLUMN "is_polarity_right" BOOLEAN,
  ADD COLUMN "is_held_on" BOOLEAN,
  ADD CONSTRAINT "signals_suppression_check"
    CHECK (suppression IN ('none', 'diode', 'transient-suppressor', 'varistor', 'rc')),
  ADD CONSTRAINT "signals_suppression_voltage_v_check" CHECK (suppression_voltage_v >= 0);

ALTER TABLE "machines"
  ADD COLUMN "control_voltage_v" DOUBLE PRECISION,
  ADD COLUMN "supply_rating_w" DOUBLE PRECISION,
  ADD COLUMN "supply_peak_w" DOUBLE PRECISION,
  ADD COLUMN "control_load_w" DOUBLE PRECISION,
  ADD COLUMN "control_load_peak_w" DOUBLE PRECISION,
  ADD COLUMN "supply_reserve_ratio" DOUBLE PRECISION,
  ADD COLUMN "control_temperature_k" DOUBLE PRECISION,
  ADD COLUMN "control_temperature_entered" JSONB,
  ADD COLUMN "has_separate_commons" BOOLEAN,
  ADD COLUMN "output_rating_v" DOUBLE PRECISION,
  ADD COLUMN "control_behaviour" JSONB NOT NULL DEFAULT '{}',
  ADD CONSTRAINT "machines_control_voltage_v_check" CHECK (control_voltage_v > 0),
  ADD CONSTRAINT "machines_supply_rating_w_check" CHECK (supply_rating_w > 0),
  ADD CONSTRAINT "machines_supply_peak_w_check" CHECK (supply_peak_w > 0),
  ADD CONSTRAINT "machines_control_load_w_check" CHECK (control_load_w >= 0),
  ADD CONSTRAINT "machines_control_load_peak_w_check" CHECK (control_load_peak_w >= 0),
  ADD CONSTRAINT "machines_supply_reserve_ratio_check" CHECK (supply_reserve_ratio >= 0 AND supply_reserve_ratio <= 1),
  ADD CONSTRAINT "machines_control_temperature_entered_check"
    CHECK ((control_temperature_k IS NULL) = (control_temperature_entered IS NULL)),
  ADD CONSTRAINT "machines_output_rating_v_check" CHECK (output_rating_v > 0),
  ADD CONSTRAINT "machines_control_behaviour_check" CHECK (jsonb_typeof(control_behaviour) = 'object');
