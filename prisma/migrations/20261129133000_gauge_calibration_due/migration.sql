-- Until when the calibration of the gauge is good: not said of what was recorded before.
ALTER TABLE setup_records ADD COLUMN gauge_calibration_due_on DATE;
