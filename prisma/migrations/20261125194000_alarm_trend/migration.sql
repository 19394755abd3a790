-- The fleet page adds up the alarms of weeks for fifty circuits: it reads the reports that hold one, which are few, and not every hour
-- that was reported.
CREATE INDEX alarm_counts_with_alarms_idx ON alarm_counts (organisation_id, circuit_id, from_at) WHERE stands AND alarms <> '{}';
