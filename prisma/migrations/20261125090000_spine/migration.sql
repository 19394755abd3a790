-- CreateTable
CREATE TABLE "audit_entries" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "customer_id" UUID,
    "at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "actor_membership_id" UUID,
    "actor_name" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "entity" TEXT NOT NULL,
    "entity_id" UUID NOT NULL,
    "changes" JSONB NOT NULL DEFAULT '{}',
    "request_id" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "audit_entries_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "audit_seals" (
    "organisation_id" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "audit_entry_id" UUID NOT NULL,
    "previous_hash" BYTEA NOT NULL,
    "hash" BYTEA NOT NULL,
    "sealed_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "audit_seals_pkey" PRIMARY KEY ("organisation_id","sequence")
);

-- CreateTable
CREATE TABLE "circuits" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "power_unit_id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "purpose" TEXT NOT NULL DEFAULT 'clamping',
    "has_reducing_valve" BOOLEAN NOT NULL DEFAULT false,
    "can_trap" BOOLEAN,
    "trapped_temperature_rise_k" DOUBLE PRECISION,
    "trapped_temperature_rise_entered" JSONB,
    "trapped_net_expansion_per_k" DOUBLE PRECISION,
    "trapped_bulk_modulus_pa" DOUBLE PRECISION,
    "trapped_bulk_modulus_entered" JSONB,
    "unclamp_line_can_block" BOOLEAN,
    "clamp_time_allowed_s" DOUBLE PRECISION,
    "clamp_time_allowed_entered" JSONB,
    "unclamp_time_allowed_s" DOUBLE PRECISION,
    "unclamp_time_allowed_entered" JSONB,
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "circuits_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "circuit_standings" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "circuit_id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "status" TEXT NOT NULL,
    "status_rank" INTEGER NOT NULL,
    "sort_key" TEXT COLLATE "C" NOT NULL,
    "check_code" TEXT,
    "reason" TEXT NOT NULL,
    "summary" JSONB NOT NULL,
    "computed_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "circuit_standings_pkey" PRIMARY KEY ("organisation_id","circuit_id")
);

-- CreateTable
CREATE TABLE "standing_counts" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "status" TEXT NOT NULL,
    "circuits" INTEGER NOT NULL,

    CONSTRAINT "standing_counts_pkey" PRIMARY KEY ("organisation_id","customer_id","status")
);

-- CreateTable
CREATE TABLE "commissioning_runs" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "service_visit_id" UUID,
    "name" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'open',
    "steps" JSONB NOT NULL DEFAULT '[]',
    "started_at" TIMESTAMPTZ(6) NOT NULL,
    "finished_at" TIMESTAMPTZ(6),
    "signed_by_name" TEXT NOT NULL DEFAULT '',
    "signature_file_id" UUID,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "commissioning_runs_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "readings" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "commissioning_run_id" UUID NOT NULL,
    "circuit_id" UUID,
    "step" TEXT NOT NULL,
    "quantity_kind" TEXT NOT NULL,
    "value_si" DOUBLE PRECISION,
    "value_entered" JSONB,
    "answer" TEXT NOT NULL DEFAULT '',
    "photo_file_id" UUID,
    "taken_at" TIMESTAMPTZ(6) NOT NULL,
    "taken_by" UUID NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "readings_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "component_types" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "part_number" TEXT NOT NULL DEFAULT '',
    "figures" JSONB NOT NULL DEFAULT '{}',
    "note" TEXT NOT NULL DEFAULT '',
    "revision" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "component_types_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "component_type_revisions" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "component_type_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "figures" JSONB NOT NULL,
    "name" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "component_type_revisions_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "installed_components" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "power_unit_id" UUID,
    "circuit_id" UUID,
    "component_type_id" UUID NOT NULL,
    "designation" TEXT NOT NULL,
    "line_functions" TEXT[],
    "serial" TEXT NOT NULL DEFAULT '',
    "lot" TEXT NOT NULL DEFAULT '',
    "made_on" DATE,
    "figures" JSONB NOT NULL DEFAULT '{}',
    "sensing" TEXT,
    "valid_from" TIMESTAMPTZ(6) NOT NULL,
    "valid_to" TIMESTAMPTZ(6),
    "reason" TEXT NOT NULL DEFAULT '',
    "removed_reason" TEXT NOT NULL DEFAULT '',
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "installed_components_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "connections" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "from_component_id" UUID NOT NULL,
    "to_component_id" UUID NOT NULL,
    "line_function" TEXT NOT NULL,
    "valid_from" TIMESTAMPTZ(6) NOT NULL,
    "valid_to" TIMESTAMPTZ(6),
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "connections_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "customers" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "trade" TEXT NOT NULL DEFAULT '',
    "contact_name" TEXT NOT NULL DEFAULT '',
    "contact_email" TEXT NOT NULL DEFAULT '',
    "contact_phone" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "customers_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "files" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "customer_id" UUID,
    "name" TEXT NOT NULL,
    "media_type" TEXT NOT NULL,
    "size_bytes" BIGINT NOT NULL,
    "sha256" BYTEA NOT NULL,
    "storage_key" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "created_by" UUID NOT NULL,

    CONSTRAINT "files_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "fixtures" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "description" TEXT NOT NULL DEFAULT '',
    "rated_pressure_pa" DOUBLE PRECISION,
    "rated_pressure_entered" JSONB,
    "rated_pressure_source" TEXT NOT NULL DEFAULT '',
    "elements" JSONB NOT NULL DEFAULT '[]',
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "fixtures_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "fixture_fittings" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "fixture_id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "valid_from" TIMESTAMPTZ(6) NOT NULL,
    "valid_to" TIMESTAMPTZ(6),
    "reason" TEXT NOT NULL DEFAULT '',
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "fixture_fittings_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "issues" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "machine_id" UUID,
    "circuit_id" UUID,
    "check_code" TEXT,
    "kind" TEXT NOT NULL DEFAULT 'other',
    "title" TEXT NOT NULL,
    "description" TEXT NOT NULL DEFAULT '',
    "state" TEXT NOT NULL DEFAULT 'open',
    "assignee_membership_id" UUID,
    "close_reason" TEXT NOT NULL DEFAULT '',
    "evidence" JSONB NOT NULL DEFAULT '{}',
    "opened_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "opened_by" UUID NOT NULL,
    "opened_by_name" TEXT NOT NULL,
    "opened_by_customer" BOOLEAN NOT NULL DEFAULT false,
    "closed_at" TIMESTAMPTZ(6),
    "closed_by_name" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "issues_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "issue_comments" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "issue_id" UUID NOT NULL,
    "text" TEXT NOT NULL,
    "is_internal" BOOLEAN NOT NULL DEFAULT false,
    "written_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "written_by" UUID NOT NULL,
    "written_by_name" TEXT NOT NULL,

    CONSTRAINT "issue_comments_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "jobs" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'queued',
    "progress" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "parameters" JSONB NOT NULL DEFAULT '{}',
    "result" JSONB,
    "problem" JSONB,
    "requested_by" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "started_at" TIMESTAMPTZ(6),
    "finished_at" TIMESTAMPTZ(6),
    "cancel_requested_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "jobs_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "machines" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "description" TEXT NOT NULL DEFAULT '',
    "model" TEXT NOT NULL DEFAULT '',
    "serial" TEXT NOT NULL DEFAULT '',
    "made_year" INTEGER,
    "form" TEXT NOT NULL,
    "way_in" TEXT NOT NULL,
    "axes" TEXT NOT NULL DEFAULT '',
    "supply_voltage_v" DOUBLE PRECISION,
    "spare_inputs" INTEGER,
    "spare_outputs" INTEGER,
    "control_reaction_s" DOUBLE PRECISION,
    "control_reaction_entered" JSONB,
    "in_service_on" DATE,
    "warranty_until" DATE,
    "trained_persons" TEXT NOT NULL DEFAULT '',
    "kit_list" TEXT NOT NULL DEFAULT '',
    "as_shipped" TEXT NOT NULL DEFAULT '',
    "as_received" TEXT NOT NULL DEFAULT '',
    "quote_reference" TEXT NOT NULL DEFAULT '',
    "disposition" TEXT NOT NULL DEFAULT 'in-service',
    "disposition_on" DATE,
    "predecessor_machine_id" UUID,
    "emergency_stop_behaviour" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "machines_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "machine_placements" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "valid_from" TIMESTAMPTZ(6) NOT NULL,
    "valid_to" TIMESTAMPTZ(6),
    "reason" TEXT NOT NULL DEFAULT '',
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "machine_placements_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "stations" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "stations_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "m_codes" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "station_id" UUID,
    "code" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "waits_for_answer" BOOLEAN,
    "time_out_s" DOUBLE PRECISION,
    "time_out_entered" JSONB,
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "m_codes_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "operations" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "fixture_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "tool" TEXT NOT NULL DEFAULT '',
    "material" TEXT NOT NULL DEFAULT '',
    "cut" JSONB NOT NULL DEFAULT '{}',
    "required_pressure_pa" DOUBLE PRECISION,
    "required_pressure_entered" JSONB,
    "required_basis" TEXT NOT NULL DEFAULT 'typed',
    "required_source" TEXT NOT NULL DEFAULT '',
    "workpiece_limit_pa" DOUBLE PRECISION,
    "workpiece_limit_entered" JSONB,
    "workpiece_not_limiting" BOOLEAN NOT NULL DEFAULT false,
    "not_limiting_reason" TEXT NOT NULL DEFAULT '',
    "not_limiting_by" TEXT NOT NULL DEFAULT '',
    "valid_from" TIMESTAMPTZ(6) NOT NULL,
    "valid_to" TIMESTAMPTZ(6),
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "operations_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "organisations" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "margins_asked" JSONB NOT NULL,
    "is_invented" BOOLEAN NOT NULL DEFAULT false,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "organisations_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "idempotency_keys" (
    "organisation_id" UUID NOT NULL,
    "principal" UUID NOT NULL,
    "route" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "response_status" INTEGER,
    "response_body" TEXT,
    "response_headers" JSONB,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "idempotency_keys_pkey" PRIMARY KEY ("organisation_id","principal","route","key")
);

-- CreateTable
CREATE TABLE "number_counters" (
    "organisation_id" UUID NOT NULL,
    "noun" TEXT NOT NULL,
    "last_number" INTEGER NOT NULL,

    CONSTRAINT "number_counters_pkey" PRIMARY KEY ("organisation_id","noun")
);

-- CreateTable
CREATE TABLE "search_tokens" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "token" TEXT COLLATE "C" NOT NULL,
    "circuit_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,

    CONSTRAINT "search_tokens_pkey" PRIMARY KEY ("organisation_id","token","circuit_id","kind")
);

-- CreateTable
CREATE TABLE "power_units" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "drive" TEXT NOT NULL,
    "plant_air_low_pa" DOUBLE PRECISION,
    "plant_air_low_entered" JSONB,
    "plant_air_high_pa" DOUBLE PRECISION,
    "plant_air_high_entered" JSONB,
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "power_units_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "target_settings" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "circuit_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "setting_pa" DOUBLE PRECISION,
    "setting_entered" JSONB,
    "setting_tolerance_pa" DOUBLE PRECISION,
    "setting_tolerance_entered" JSONB,
    "set_point_pa" DOUBLE PRECISION,
    "set_point_entered" JSONB,
    "reset_point_pa" DOUBLE PRECISION,
    "reset_point_entered" JSONB,
    "air_pressure_pa" DOUBLE PRECISION,
    "air_pressure_entered" JSONB,
    "pump_restart_pa" DOUBLE PRECISION,
    "pump_restart_entered" JSONB,
    "pump_restart_tolerance_pa" DOUBLE PRECISION,
    "pump_restart_tolerance_entered" JSONB,
    "reason" TEXT NOT NULL,
    "released_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "released_by" UUID NOT NULL,
    "released_by_name" TEXT NOT NULL,

    CONSTRAINT "target_settings_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "setup_records" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "circuit_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "setting_pa" DOUBLE PRECISION,
    "setting_entered" JSONB,
    "setting_tolerance_pa" DOUBLE PRECISION,
    "setting_tolerance_entered" JSONB,
    "set_point_pa" DOUBLE PRECISION,
    "set_point_entered" JSONB,
    "reset_point_pa" DOUBLE PRECISION,
    "reset_point_entered" JSONB,
    "air_pressure_pa" DOUBLE PRECISION,
    "air_pressure_entered" JSONB,
    "pump_restart_pa" DOUBLE PRECISION,
    "pump_restart_entered" JSONB,
    "pump_restart_tolerance_pa" DOUBLE PRECISION,
    "pump_restart_tolerance_entered" JSONB,
    "clamp_time_s" DOUBLE PRECISION,
    "clamp_time_entered" JSONB,
    "unclamp_time_s" DOUBLE PRECISION,
    "unclamp_time_entered" JSONB,
    "decay_pa" DOUBLE PRECISION,
    "decay_entered" JSONB,
    "decay_duration_s" DOUBLE PRECISION,
    "decay_duration_entered" JSONB,
    "oil_temperature_k" DOUBLE PRECISION,
    "oil_temperature_entered" JSONB,
    "basis" TEXT NOT NULL,
    "report_name" TEXT NOT NULL,
    "commissioning_run_id" UUID,
    "fixture_id" UUID,
    "gauge_span_pa" DOUBLE PRECISION,
    "gauge_span_entered" JSONB,
    "gauge_class" TEXT NOT NULL DEFAULT '',
    "gauge_identity" TEXT NOT NULL DEFAULT '',
    "gauge_calibrated_on" DATE,
    "reason" TEXT NOT NULL,
    "measured_at" TIMESTAMPTZ(6) NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "recorded_by_name" TEXT NOT NULL,
    "measured_by_name" TEXT NOT NULL,

    CONSTRAINT "setup_records_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "signals" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "circuit_id" UUID,
    "m_code_id" UUID,
    "component_id" UUID,
    "direction" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "address" TEXT NOT NULL DEFAULT '',
    "acts_on" TEXT NOT NULL DEFAULT '',
    "relay" TEXT NOT NULL DEFAULT '',
    "contact" TEXT NOT NULL DEFAULT '',
    "alarm" TEXT NOT NULL DEFAULT '',
    "reaction" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "signals_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "wires" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "signal_id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "from_terminal" TEXT NOT NULL,
    "to_terminal" TEXT NOT NULL,
    "colour" TEXT NOT NULL DEFAULT '',
    "cross_section_m2" DOUBLE PRECISION,
    "cross_section_entered" JSONB,
    "length_m" DOUBLE PRECISION,
    "length_entered" JSONB,
    "insulation_voltage_v" DOUBLE PRECISION,
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "wires_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "sites" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "address" TEXT NOT NULL DEFAULT '',
    "place" TEXT NOT NULL,
    "country" TEXT NOT NULL DEFAULT '',
    "time_zone" TEXT NOT NULL,
    "latitude" DOUBLE PRECISION,
    "longitude" DOUBLE PRECISION,
    "access_windows" JSONB NOT NULL DEFAULT '[]',
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "sites_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "sizing_records" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "circuit_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "basis" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "canonical_text" TEXT NOT NULL,
    "sha256" BYTEA NOT NULL,
    "calculation_version" TEXT NOT NULL,
    "runtime_version" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "created_by" UUID NOT NULL,
    "created_by_name" TEXT NOT NULL,

    CONSTRAINT "sizing_records_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "sizing_standings" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "sizing_record_id" UUID NOT NULL,
    "circuit_id" UUID NOT NULL,
    "standing" TEXT NOT NULL,
    "reasons" JSONB NOT NULL DEFAULT '[]',
    "changed_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sizing_standings_pkey" PRIMARY KEY ("organisation_id","sizing_record_id")
);

-- CreateTable
CREATE TABLE "sizing_dependencies" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "sizing_record_id" UUID NOT NULL,
    "entity" TEXT NOT NULL,
    "entity_id" UUID NOT NULL,

    CONSTRAINT "sizing_dependencies_pkey" PRIMARY KEY ("organisation_id","sizing_record_id","entity","entity_id")
);

-- CreateTable
CREATE TABLE "sources" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "last_heard_at" TIMESTAMPTZ(6),
    "clock_offset_s" DOUBLE PRECISION,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "sources_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "source_secrets" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "source_id" UUID NOT NULL,
    "secret_sealed" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(6),

    CONSTRAINT "source_secrets_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "source_machines" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "source_id" UUID NOT NULL,
    "external_reference" TEXT NOT NULL,
    "machine_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "source_machines_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "deliveries" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "source_id" UUID NOT NULL,
    "webhook_id" TEXT NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "received_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "state" TEXT NOT NULL,
    "finding" JSONB,
    "body" TEXT,

    CONSTRAINT "deliveries_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "alarm_counts" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "circuit_id" UUID NOT NULL,
    "source_id" UUID NOT NULL,
    "webhook_id" TEXT NOT NULL,
    "from_at" TIMESTAMPTZ(6) NOT NULL,
    "to_at" TIMESTAMPTZ(6) NOT NULL,
    "revision" INTEGER NOT NULL,
    "clamp_cycles" INTEGER NOT NULL,
    "alarms" JSONB NOT NULL,
    "measures" JSONB,
    "received_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "alarm_counts_pkey" PRIMARY KEY ("organisation_id","circuit_id","from_at","to_at","revision")
) PARTITION BY RANGE ("from_at");

-- CreateTable
CREATE TABLE "findings" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "source_id" UUID,
    "delivery_id" UUID,
    "kind" TEXT NOT NULL,
    "detail" JSONB NOT NULL,
    "found_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "settled_at" TIMESTAMPTZ(6),
    "settled_by" UUID,
    "settlement" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "findings_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "users" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "display_name" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "pressure_unit" TEXT NOT NULL DEFAULT 'bar',
    "theme" TEXT NOT NULL DEFAULT 'system',
    "locale" TEXT NOT NULL DEFAULT 'en',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "disabled_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "users_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sessions" (
    "id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "user_id" UUID NOT NULL,
    "organisation_id" UUID NOT NULL,
    "membership_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_seen_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "ended_at" TIMESTAMPTZ(6),
    "user_agent" TEXT NOT NULL,

    CONSTRAINT "sessions_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sign_in_attempts" (
    "id" UUID NOT NULL,
    "email_hash" BYTEA NOT NULL,
    "address_hash" BYTEA NOT NULL,
    "attempted_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "succeeded" BOOLEAN NOT NULL,

    CONSTRAINT "sign_in_attempts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "memberships" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "customer_id" UUID,
    "role" TEXT NOT NULL,
    "display_name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "memberships_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "service_visits" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "site_id" UUID NOT NULL,
    "starts_on" DATE NOT NULL,
    "ends_on" DATE NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'planned',
    "technician_membership_id" UUID,
    "purpose" TEXT NOT NULL DEFAULT '',
    "report" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "service_visits_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "service_events" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "circuit_id" UUID,
    "service_visit_id" UUID,
    "kind" TEXT NOT NULL,
    "occurred_at" TIMESTAMPTZ(6) NOT NULL,
    "text" TEXT NOT NULL,
    "person_name" TEXT NOT NULL,
    "recorded_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "service_events_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "due_work" (
    "organisation_id" UUID NOT NULL,
    "customer_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "machine_id" UUID NOT NULL,
    "component_id" UUID,
    "issue_id" UUID,
    "kind" TEXT NOT NULL,
    "due_on" DATE NOT NULL,
    "basis" TEXT NOT NULL DEFAULT '',
    "done_at" TIMESTAMPTZ(6),
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "due_work_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "audit_entries_organisation_id_at_id_idx" ON "audit_entries"("organisation_id", "at", "id");

-- CreateIndex
CREATE INDEX "audit_entries_organisation_id_entity_entity_id_at_idx" ON "audit_entries"("organisation_id", "entity", "entity_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "audit_seals_organisation_id_audit_entry_id_key" ON "audit_seals"("organisation_id", "audit_entry_id");

-- CreateIndex
CREATE INDEX "circuits_organisation_id_power_unit_id_idx" ON "circuits"("organisation_id", "power_unit_id");

-- CreateIndex
CREATE INDEX "circuits_organisation_id_station_id_idx" ON "circuits"("organisation_id", "station_id");

-- CreateIndex
CREATE UNIQUE INDEX "circuits_customer_key" ON "circuits"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "circuits_organisation_id_machine_id_name_key" ON "circuits"("organisation_id", "machine_id", "name");

-- CreateIndex
CREATE INDEX "circuit_standings_organisation_id_status_rank_sort_key_circ_idx" ON "circuit_standings"("organisation_id", "status_rank", "sort_key", "circuit_id");

-- CreateIndex
CREATE INDEX "circuit_standings_organisation_id_customer_id_status_rank_s_idx" ON "circuit_standings"("organisation_id", "customer_id", "status_rank", "sort_key", "circuit_id");

-- CreateIndex
CREATE INDEX "circuit_standings_organisation_id_machine_id_idx" ON "circuit_standings"("organisation_id", "machine_id");

-- CreateIndex
CREATE INDEX "commissioning_runs_organisation_id_machine_id_idx" ON "commissioning_runs"("organisation_id", "machine_id");

-- CreateIndex
CREATE UNIQUE INDEX "commissioning_runs_customer_key" ON "commissioning_runs"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "readings_organisation_id_commissioning_run_id_idx" ON "readings"("organisation_id", "commissioning_run_id");

-- CreateIndex
CREATE UNIQUE INDEX "readings_customer_key" ON "readings"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "component_types_organisation_id_kind_name_id_idx" ON "component_types"("organisation_id", "kind", "name", "id");

-- CreateIndex
CREATE UNIQUE INDEX "component_types_organisation_id_name_key" ON "component_types"("organisation_id", "name");

-- CreateIndex
CREATE UNIQUE INDEX "component_type_revisions_organisation_id_component_type_id__key" ON "component_type_revisions"("organisation_id", "component_type_id", "revision");

-- CreateIndex
CREATE INDEX "installed_components_organisation_id_circuit_id_valid_from_idx" ON "installed_components"("organisation_id", "circuit_id", "valid_from");

-- CreateIndex
CREATE INDEX "installed_components_organisation_id_machine_id_valid_from_idx" ON "installed_components"("organisation_id", "machine_id", "valid_from");

-- CreateIndex
CREATE INDEX "installed_components_organisation_id_power_unit_id_idx" ON "installed_components"("organisation_id", "power_unit_id");

-- CreateIndex
CREATE INDEX "installed_components_organisation_id_component_type_id_idx" ON "installed_components"("organisation_id", "component_type_id");

-- CreateIndex
CREATE INDEX "installed_components_organisation_id_lot_idx" ON "installed_components"("organisation_id", "lot");

-- CreateIndex
CREATE UNIQUE INDEX "installed_components_customer_key" ON "installed_components"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "connections_organisation_id_machine_id_idx" ON "connections"("organisation_id", "machine_id");

-- CreateIndex
CREATE INDEX "connections_organisation_id_from_component_id_idx" ON "connections"("organisation_id", "from_component_id");

-- CreateIndex
CREATE INDEX "connections_organisation_id_to_component_id_idx" ON "connections"("organisation_id", "to_component_id");

-- CreateIndex
CREATE UNIQUE INDEX "connections_customer_key" ON "connections"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "customers_organisation_id_name_id_idx" ON "customers"("organisation_id", "name", "id");

-- CreateIndex
CREATE UNIQUE INDEX "customers_organisation_id_name_key" ON "customers"("organisation_id", "name");

-- CreateIndex
CREATE INDEX "files_organisation_id_customer_id_idx" ON "files"("organisation_id", "customer_id");

-- CreateIndex
CREATE UNIQUE INDEX "fixtures_customer_key" ON "fixtures"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "fixtures_organisation_id_customer_id_name_key" ON "fixtures"("organisation_id", "customer_id", "name");

-- CreateIndex
CREATE INDEX "fixture_fittings_organisation_id_station_id_valid_from_idx" ON "fixture_fittings"("organisation_id", "station_id", "valid_from");

-- CreateIndex
CREATE INDEX "fixture_fittings_organisation_id_fixture_id_idx" ON "fixture_fittings"("organisation_id", "fixture_id");

-- CreateIndex
CREATE UNIQUE INDEX "fixture_fittings_customer_key" ON "fixture_fittings"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "issues_organisation_id_state_opened_at_id_idx" ON "issues"("organisation_id", "state", "opened_at", "id");

-- CreateIndex
CREATE INDEX "issues_organisation_id_machine_id_idx" ON "issues"("organisation_id", "machine_id");

-- CreateIndex
CREATE INDEX "issues_organisation_id_circuit_id_idx" ON "issues"("organisation_id", "circuit_id");

-- CreateIndex
CREATE UNIQUE INDEX "issues_customer_key" ON "issues"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "issues_organisation_id_number_key" ON "issues"("organisation_id", "number");

-- CreateIndex
CREATE INDEX "issue_comments_organisation_id_issue_id_written_at_idx" ON "issue_comments"("organisation_id", "issue_id", "written_at");

-- CreateIndex
CREATE UNIQUE INDEX "issue_comments_customer_key" ON "issue_comments"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "jobs_organisation_id_created_at_id_idx" ON "jobs"("organisation_id", "created_at", "id");

-- CreateIndex
CREATE INDEX "machines_organisation_id_site_id_idx" ON "machines"("organisation_id", "site_id");

-- CreateIndex
CREATE INDEX "machines_organisation_id_name_id_idx" ON "machines"("organisation_id", "name", "id");

-- CreateIndex
CREATE UNIQUE INDEX "machines_customer_key" ON "machines"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "machines_organisation_id_customer_id_site_id_name_key" ON "machines"("organisation_id", "customer_id", "site_id", "name");

-- CreateIndex
CREATE INDEX "machine_placements_organisation_id_machine_id_valid_from_idx" ON "machine_placements"("organisation_id", "machine_id", "valid_from");

-- CreateIndex
CREATE UNIQUE INDEX "machine_placements_customer_key" ON "machine_placements"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "stations_customer_key" ON "stations"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "stations_organisation_id_machine_id_name_key" ON "stations"("organisation_id", "machine_id", "name");

-- CreateIndex
CREATE UNIQUE INDEX "m_codes_customer_key" ON "m_codes"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "m_codes_organisation_id_machine_id_code_key" ON "m_codes"("organisation_id", "machine_id", "code");

-- CreateIndex
CREATE INDEX "operations_organisation_id_fixture_id_number_idx" ON "operations"("organisation_id", "fixture_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "operations_customer_key" ON "operations"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "idempotency_keys_created_at_idx" ON "idempotency_keys"("created_at");

-- CreateIndex
CREATE INDEX "search_tokens_organisation_id_circuit_id_idx" ON "search_tokens"("organisation_id", "circuit_id");

-- CreateIndex
CREATE UNIQUE INDEX "power_units_customer_key" ON "power_units"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "power_units_organisation_id_machine_id_name_key" ON "power_units"("organisation_id", "machine_id", "name");

-- CreateIndex
CREATE UNIQUE INDEX "target_settings_customer_key" ON "target_settings"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "target_settings_organisation_id_circuit_id_revision_key" ON "target_settings"("organisation_id", "circuit_id", "revision");

-- CreateIndex
CREATE INDEX "setup_records_organisation_id_circuit_id_measured_at_idx" ON "setup_records"("organisation_id", "circuit_id", "measured_at");

-- CreateIndex
CREATE UNIQUE INDEX "setup_records_customer_key" ON "setup_records"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "setup_records_organisation_id_circuit_id_revision_key" ON "setup_records"("organisation_id", "circuit_id", "revision");

-- CreateIndex
CREATE INDEX "signals_organisation_id_machine_id_idx" ON "signals"("organisation_id", "machine_id");

-- CreateIndex
CREATE UNIQUE INDEX "signals_customer_key" ON "signals"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "wires_organisation_id_signal_id_idx" ON "wires"("organisation_id", "signal_id");

-- CreateIndex
CREATE UNIQUE INDEX "wires_customer_key" ON "wires"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "sites_customer_key" ON "sites"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "sites_organisation_id_customer_id_name_key" ON "sites"("organisation_id", "customer_id", "name");

-- CreateIndex
CREATE INDEX "sizing_records_organisation_id_circuit_id_created_at_idx" ON "sizing_records"("organisation_id", "circuit_id", "created_at");

-- CreateIndex
CREATE UNIQUE INDEX "sizing_records_customer_key" ON "sizing_records"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "sizing_records_organisation_id_number_key" ON "sizing_records"("organisation_id", "number");

-- CreateIndex
CREATE INDEX "sizing_standings_organisation_id_circuit_id_standing_idx" ON "sizing_standings"("organisation_id", "circuit_id", "standing");

-- CreateIndex
CREATE INDEX "sizing_dependencies_organisation_id_entity_entity_id_idx" ON "sizing_dependencies"("organisation_id", "entity", "entity_id");

-- CreateIndex
CREATE UNIQUE INDEX "sources_organisation_id_name_key" ON "sources"("organisation_id", "name");

-- CreateIndex
CREATE INDEX "source_secrets_organisation_id_source_id_idx" ON "source_secrets"("organisation_id", "source_id");

-- CreateIndex
CREATE UNIQUE INDEX "source_machines_customer_key" ON "source_machines"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "source_machines_organisation_id_source_id_external_referenc_key" ON "source_machines"("organisation_id", "source_id", "external_reference");

-- CreateIndex
CREATE INDEX "deliveries_organisation_id_received_at_id_idx" ON "deliveries"("organisation_id", "received_at", "id");

-- CreateIndex
CREATE UNIQUE INDEX "deliveries_organisation_id_source_id_webhook_id_key" ON "deliveries"("organisation_id", "source_id", "webhook_id");

-- CreateIndex
CREATE INDEX "alarm_counts_organisation_id_circuit_id_from_at_idx" ON "alarm_counts"("organisation_id", "circuit_id", "from_at");

-- CreateIndex
CREATE INDEX "findings_organisation_id_found_at_id_idx" ON "findings"("organisation_id", "found_at", "id");

-- CreateIndex
CREATE UNIQUE INDEX "users_email_key" ON "users"("email");

-- CreateIndex
CREATE UNIQUE INDEX "sessions_token_hash_key" ON "sessions"("token_hash");

-- CreateIndex
CREATE INDEX "sessions_user_id_idx" ON "sessions"("user_id");

-- CreateIndex
CREATE INDEX "sign_in_attempts_email_hash_address_hash_attempted_at_idx" ON "sign_in_attempts"("email_hash", "address_hash", "attempted_at");

-- CreateIndex
CREATE INDEX "sign_in_attempts_address_hash_attempted_at_idx" ON "sign_in_attempts"("address_hash", "attempted_at");

-- CreateIndex
CREATE INDEX "memberships_user_id_idx" ON "memberships"("user_id");

-- CreateIndex
CREATE UNIQUE INDEX "memberships_organisation_id_user_id_key" ON "memberships"("organisation_id", "user_id");

-- CreateIndex
CREATE INDEX "service_visits_organisation_id_site_id_idx" ON "service_visits"("organisation_id", "site_id");

-- CreateIndex
CREATE UNIQUE INDEX "service_visits_customer_key" ON "service_visits"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE UNIQUE INDEX "service_visits_organisation_id_number_key" ON "service_visits"("organisation_id", "number");

-- CreateIndex
CREATE INDEX "service_events_organisation_id_machine_id_occurred_at_idx" ON "service_events"("organisation_id", "machine_id", "occurred_at");

-- CreateIndex
CREATE UNIQUE INDEX "service_events_customer_key" ON "service_events"("organisation_id", "customer_id", "id");

-- CreateIndex
CREATE INDEX "due_work_organisation_id_due_on_idx" ON "due_work"("organisation_id", "due_on");

-- CreateIndex
CREATE INDEX "due_work_organisation_id_machine_id_idx" ON "due_work"("organisation_id", "machine_id");

-- CreateIndex
CREATE UNIQUE INDEX "due_work_customer_key" ON "due_work"("organisation_id", "customer_id", "id");

-- AddForeignKey
ALTER TABLE "audit_entries" ADD CONSTRAINT "audit_entries_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "audit_seals" ADD CONSTRAINT "audit_seals_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "audit_seals" ADD CONSTRAINT "audit_seals_audit_entry_id_fkey" FOREIGN KEY ("organisation_id", "audit_entry_id") REFERENCES "audit_entries"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuits" ADD CONSTRAINT "circuits_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuits" ADD CONSTRAINT "circuits_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuits" ADD CONSTRAINT "circuits_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuits" ADD CONSTRAINT "circuits_power_unit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "power_unit_id") REFERENCES "power_units"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuits" ADD CONSTRAINT "circuits_station_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "station_id") REFERENCES "stations"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuit_standings" ADD CONSTRAINT "circuit_standings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuit_standings" ADD CONSTRAINT "circuit_standings_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuit_standings" ADD CONSTRAINT "circuit_standings_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuit_standings" ADD CONSTRAINT "circuit_standings_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "circuit_standings" ADD CONSTRAINT "circuit_standings_site_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "site_id") REFERENCES "sites"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "standing_counts" ADD CONSTRAINT "standing_counts_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "standing_counts" ADD CONSTRAINT "standing_counts_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "commissioning_runs" ADD CONSTRAINT "commissioning_runs_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "commissioning_runs" ADD CONSTRAINT "commissioning_runs_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "commissioning_runs" ADD CONSTRAINT "commissioning_runs_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "commissioning_runs" ADD CONSTRAINT "commissioning_runs_service_visit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "service_visit_id") REFERENCES "service_visits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "commissioning_runs" ADD CONSTRAINT "commissioning_runs_signature_file_id_fkey" FOREIGN KEY ("organisation_id", "signature_file_id") REFERENCES "files"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "readings" ADD CONSTRAINT "readings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "readings" ADD CONSTRAINT "readings_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "readings" ADD CONSTRAINT "readings_commissioning_run_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "commissioning_run_id") REFERENCES "commissioning_runs"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "readings" ADD CONSTRAINT "readings_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "readings" ADD CONSTRAINT "readings_photo_file_id_fkey" FOREIGN KEY ("organisation_id", "photo_file_id") REFERENCES "files"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "component_types" ADD CONSTRAINT "component_types_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "component_type_revisions" ADD CONSTRAINT "component_type_revisions_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "component_type_revisions" ADD CONSTRAINT "component_type_revisions_component_type_id_fkey" FOREIGN KEY ("organisation_id", "component_type_id") REFERENCES "component_types"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "installed_components" ADD CONSTRAINT "installed_components_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "installed_components" ADD CONSTRAINT "installed_components_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "installed_components" ADD CONSTRAINT "installed_components_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "installed_components" ADD CONSTRAINT "installed_components_power_unit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "power_unit_id") REFERENCES "power_units"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "installed_components" ADD CONSTRAINT "installed_components_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "installed_components" ADD CONSTRAINT "installed_components_component_type_id_fkey" FOREIGN KEY ("organisation_id", "component_type_id") REFERENCES "component_types"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "connections" ADD CONSTRAINT "connections_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "connections" ADD CONSTRAINT "connections_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "connections" ADD CONSTRAINT "connections_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "connections" ADD CONSTRAINT "connections_from_component_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "from_component_id") REFERENCES "installed_components"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "connections" ADD CONSTRAINT "connections_to_component_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "to_component_id") REFERENCES "installed_components"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "customers" ADD CONSTRAINT "customers_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "files" ADD CONSTRAINT "files_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "files" ADD CONSTRAINT "files_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "fixtures" ADD CONSTRAINT "fixtures_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "fixtures" ADD CONSTRAINT "fixtures_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "fixture_fittings" ADD CONSTRAINT "fixture_fittings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "fixture_fittings" ADD CONSTRAINT "fixture_fittings_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "fixture_fittings" ADD CONSTRAINT "fixture_fittings_fixture_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "fixture_id") REFERENCES "fixtures"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "fixture_fittings" ADD CONSTRAINT "fixture_fittings_station_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "station_id") REFERENCES "stations"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issues" ADD CONSTRAINT "issues_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issues" ADD CONSTRAINT "issues_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issues" ADD CONSTRAINT "issues_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issues" ADD CONSTRAINT "issues_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issues" ADD CONSTRAINT "issues_assignee_membership_id_fkey" FOREIGN KEY ("organisation_id", "assignee_membership_id") REFERENCES "memberships"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issue_comments" ADD CONSTRAINT "issue_comments_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issue_comments" ADD CONSTRAINT "issue_comments_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "issue_comments" ADD CONSTRAINT "issue_comments_issue_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "issue_id") REFERENCES "issues"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machines" ADD CONSTRAINT "machines_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machines" ADD CONSTRAINT "machines_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machines" ADD CONSTRAINT "machines_site_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "site_id") REFERENCES "sites"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machines" ADD CONSTRAINT "machines_predecessor_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "predecessor_machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machine_placements" ADD CONSTRAINT "machine_placements_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machine_placements" ADD CONSTRAINT "machine_placements_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machine_placements" ADD CONSTRAINT "machine_placements_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "machine_placements" ADD CONSTRAINT "machine_placements_site_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "site_id") REFERENCES "sites"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "stations" ADD CONSTRAINT "stations_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "stations" ADD CONSTRAINT "stations_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "stations" ADD CONSTRAINT "stations_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "m_codes" ADD CONSTRAINT "m_codes_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "m_codes" ADD CONSTRAINT "m_codes_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "m_codes" ADD CONSTRAINT "m_codes_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "m_codes" ADD CONSTRAINT "m_codes_station_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "station_id") REFERENCES "stations"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "operations" ADD CONSTRAINT "operations_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "operations" ADD CONSTRAINT "operations_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "operations" ADD CONSTRAINT "operations_fixture_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "fixture_id") REFERENCES "fixtures"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "idempotency_keys" ADD CONSTRAINT "idempotency_keys_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "number_counters" ADD CONSTRAINT "number_counters_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "search_tokens" ADD CONSTRAINT "search_tokens_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "search_tokens" ADD CONSTRAINT "search_tokens_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "search_tokens" ADD CONSTRAINT "search_tokens_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "power_units" ADD CONSTRAINT "power_units_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "power_units" ADD CONSTRAINT "power_units_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "power_units" ADD CONSTRAINT "power_units_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "target_settings" ADD CONSTRAINT "target_settings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "target_settings" ADD CONSTRAINT "target_settings_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "target_settings" ADD CONSTRAINT "target_settings_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "setup_records" ADD CONSTRAINT "setup_records_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "setup_records" ADD CONSTRAINT "setup_records_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "setup_records" ADD CONSTRAINT "setup_records_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "setup_records" ADD CONSTRAINT "setup_records_commissioning_run_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "commissioning_run_id") REFERENCES "commissioning_runs"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "setup_records" ADD CONSTRAINT "setup_records_fixture_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "fixture_id") REFERENCES "fixtures"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "signals" ADD CONSTRAINT "signals_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "signals" ADD CONSTRAINT "signals_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "signals" ADD CONSTRAINT "signals_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "signals" ADD CONSTRAINT "signals_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "signals" ADD CONSTRAINT "signals_m_code_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "m_code_id") REFERENCES "m_codes"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "signals" ADD CONSTRAINT "signals_component_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "component_id") REFERENCES "installed_components"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "wires" ADD CONSTRAINT "wires_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "wires" ADD CONSTRAINT "wires_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "wires" ADD CONSTRAINT "wires_signal_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "signal_id") REFERENCES "signals"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sites" ADD CONSTRAINT "sites_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sites" ADD CONSTRAINT "sites_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_records" ADD CONSTRAINT "sizing_records_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_records" ADD CONSTRAINT "sizing_records_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_records" ADD CONSTRAINT "sizing_records_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_standings" ADD CONSTRAINT "sizing_standings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_standings" ADD CONSTRAINT "sizing_standings_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_standings" ADD CONSTRAINT "sizing_standings_sizing_record_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "sizing_record_id") REFERENCES "sizing_records"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_standings" ADD CONSTRAINT "sizing_standings_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_dependencies" ADD CONSTRAINT "sizing_dependencies_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_dependencies" ADD CONSTRAINT "sizing_dependencies_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sizing_dependencies" ADD CONSTRAINT "sizing_dependencies_sizing_record_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "sizing_record_id") REFERENCES "sizing_records"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sources" ADD CONSTRAINT "sources_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "source_secrets" ADD CONSTRAINT "source_secrets_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "source_secrets" ADD CONSTRAINT "source_secrets_source_id_fkey" FOREIGN KEY ("organisation_id", "source_id") REFERENCES "sources"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "source_machines" ADD CONSTRAINT "source_machines_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "source_machines" ADD CONSTRAINT "source_machines_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "source_machines" ADD CONSTRAINT "source_machines_source_id_fkey" FOREIGN KEY ("organisation_id", "source_id") REFERENCES "sources"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "source_machines" ADD CONSTRAINT "source_machines_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_source_id_fkey" FOREIGN KEY ("organisation_id", "source_id") REFERENCES "sources"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "alarm_counts" ADD CONSTRAINT "alarm_counts_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "alarm_counts" ADD CONSTRAINT "alarm_counts_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "alarm_counts" ADD CONSTRAINT "alarm_counts_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "alarm_counts" ADD CONSTRAINT "alarm_counts_source_id_fkey" FOREIGN KEY ("organisation_id", "source_id") REFERENCES "sources"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "findings" ADD CONSTRAINT "findings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "findings" ADD CONSTRAINT "findings_source_id_fkey" FOREIGN KEY ("organisation_id", "source_id") REFERENCES "sources"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "findings" ADD CONSTRAINT "findings_delivery_id_fkey" FOREIGN KEY ("organisation_id", "delivery_id") REFERENCES "deliveries"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sessions" ADD CONSTRAINT "sessions_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_visits" ADD CONSTRAINT "service_visits_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_visits" ADD CONSTRAINT "service_visits_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_visits" ADD CONSTRAINT "service_visits_site_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "site_id") REFERENCES "sites"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_visits" ADD CONSTRAINT "service_visits_technician_membership_id_fkey" FOREIGN KEY ("organisation_id", "technician_membership_id") REFERENCES "memberships"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_events" ADD CONSTRAINT "service_events_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_events" ADD CONSTRAINT "service_events_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_events" ADD CONSTRAINT "service_events_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_events" ADD CONSTRAINT "service_events_circuit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "circuit_id") REFERENCES "circuits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "service_events" ADD CONSTRAINT "service_events_service_visit_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "service_visit_id") REFERENCES "service_visits"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "due_work" ADD CONSTRAINT "due_work_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "due_work" ADD CONSTRAINT "due_work_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "due_work" ADD CONSTRAINT "due_work_machine_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "machine_id") REFERENCES "machines"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "due_work" ADD CONSTRAINT "due_work_component_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "component_id") REFERENCES "installed_components"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "due_work" ADD CONSTRAINT "due_work_issue_id_fkey" FOREIGN KEY ("organisation_id", "customer_id", "issue_id") REFERENCES "issues"("organisation_id", "customer_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;



-- ---------------------------------------------------------------------------------------------------------------------
-- From here on: what the schema language of Prisma cannot say. test/tenancy asserts all of it from the catalogue.
-- ---------------------------------------------------------------------------------------------------------------------

DO $$
DECLARE needed text;
BEGIN
  FOREACH needed IN ARRAY ARRAY['org_staff', 'org_customer', 'kedge_app', 'kedge_gate', 'kedge_backup'] LOOP
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = needed) THEN
      RAISE EXCEPTION 'role % is missing: it is made before the migrations run', needed;
    END IF;
  END LOOP;
END $$;

REVOKE ALL ON SCHEMA public FROM PUBLIC;
GRANT USAGE ON SCHEMA public TO org_staff, org_customer, kedge_gate, kedge_backup;
GRANT SELECT ON ALL TABLES IN SCHEMA public TO kedge_backup;
ALTER DEFAULT PRIVILEGES IN SCHEMA public GRANT SELECT ON TABLES TO kedge_backup;

-- Who a request speaks for. An empty setting is what PostgreSQL leaves behind after SET LOCAL: it means nobody.
CREATE FUNCTION current_organisation() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE
  AS $$ SELECT nullif(current_setting('app.organisation_id', true), '')::uuid $$;
CREATE FUNCTION current_customer() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE
  AS $$ SELECT nullif(current_setting('app.customer_id', true), '')::uuid $$;
CREATE FUNCTION current_person() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE
  AS $$ SELECT nullif(current_setting('app.user_id', true), '')::uuid $$;
CREATE FUNCTION current_role_name() RETURNS text LANGUAGE sql STABLE PARALLEL SAFE
  AS $$ SELECT coalesce(current_setting('app.role', true), '') $$;
REVOKE ALL ON FUNCTION current_organisation(), current_customer(), current_person(), current_role_name() FROM PUBLIC;
GRANT EXECUTE ON FUNCTION current_organisation(), current_customer(), current_person(), current_role_name() TO org_staff, org_customer, kedge_gate;

-- One line a table: verbs that staff may use (S I U D), roles that may write, verbs of a customer's people.
CREATE TEMPORARY TABLE access (name text, staff text, writers text[], customer text) ON COMMIT DROP;
INSERT INTO access VALUES
  ('memberships',              'SIU', '{administrator}', ''),
  ('customers',                'SIU', '{engineer,lead,administrator}', 'S'),
  ('sites',                    'SIU', '{engineer,lead,administrator}', 'S'),
  ('machines',                 'SIU', '{engineer,lead,administrator}', 'S'),
  ('machine_placements',       'SIU', '{engineer,lead,administrator}', 'S'),
  ('stations',                 'SIU', '{engineer,lead,administrator}', 'S'),
  ('m_codes',                  'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('power_units',              'SIU', '{engineer,lead,administrator}', 'S'),
  ('circuits',                 'SIU', '{engineer,lead,administrator}', 'S'),
  ('circuit_standings',        'SIUD', '{engineer,installer,lead,administrator}', 'S'),
  ('standing_counts',          'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('component_types',          'SIU', '{engineer,administrator}', ''),
  ('component_type_revisions', 'SI',  '{engineer,administrator}', ''),
  ('installed_components',     'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('connections',              'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('fixtures',                 'SIU', '{engineer,administrator}', 'S'),
  ('fixture_fittings',         'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('operations',               'SIU', '{engineer,administrator}', 'S'),
  ('signals',                  'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('wires',                    'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('target_settings',          'SI',  '{engineer}', 'S'),
  ('setup_records',            'SI',  '{engineer,installer,lead}', 'S'),
  ('sizing_records',           'SI',  '{engineer}', ''),
  ('sizing_standings',         'SIU', '{engineer,installer,lead,administrator}', ''),
  ('sizing_dependencies',      'SI',  '{engineer}', ''),
  ('commissioning_runs',       'SIU', '{engineer,installer,lead}', ''),
  ('readings',                 'SI',  '{engineer,installer,lead}', ''),
  ('service_visits',           'SIU', '{engineer,installer,lead,administrator}', 'S'),
  ('service_events',           'SI',  '{engineer,installer,lead,administrator}', 'S'),
  ('due_work',                 'SIU', '{engineer,installer,lead,administrator}', ''),
  ('issues',                   'SIU', '{engineer,installer,lead,administrator}', 'SI'),
  ('issue_comments',           'SI',  '{engineer,installer,lead,administrator}', 'SI'),
  ('sources',                  'SIU', '{administrator}', ''),
  ('source_secrets',           'SIU', '{administrator}', ''),
  ('source_machines',          'SIU', '{lead,administrator}', ''),
  ('deliveries',               'SIU', '{engineer,installer,lead,administrator}', ''),
  ('alarm_counts',             'SI',  '{engineer,installer,lead,administrator}', ''),
  ('findings',                 'SIU', '{lead,administrator}', ''),
  ('files',                    'SI',  '{engineer,installer,lead,administrator}', 'S'),
  ('jobs',                     'SIU', '{engineer,installer,lead,administrator}', ''),
  ('audit_entries',            'SI',  '{engineer,installer,lead,administrator}', 'I'),
  ('audit_seals',              'SI',  '{sealer}', ''),
  ('idempotency_keys',         'SIUD', '{engineer,installer,lead,administrator}', 'SIU'),
  ('number_counters',          'SIU', '{engineer,installer,lead,administrator}', 'SIU'),
  ('search_tokens',            'SID', '{engineer,installer,lead,administrator}', 'S');

DO $$
DECLARE
  a record;
  own text;
  mine text;
  writes text;
  has_customer boolean;
BEGIN
  FOR a IN SELECT * FROM access LOOP
    SELECT EXISTS (SELECT 1 FROM pg_attribute WHERE attrelid = a.name::regclass AND attname = 'customer_id' AND NOT attisdropped)
      INTO has_customer;
    -- Kept answers belong to the person who asked.
    own := '(organisation_id = current_organisation()' || CASE WHEN a.name = 'idempotency_keys' THEN ' AND principal = current_person())' ELSE ')' END;
    writes := format('(organisation_id = current_organisation() AND current_role_name() = ANY (%L::text[]))', a.writers);
    IF a.name = 'idempotency_keys' THEN writes := own; END IF;
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', a.name);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', a.name);
    IF a.staff LIKE '%S%' THEN
      EXECUTE format('GRANT SELECT ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR SELECT TO org_staff USING %s', a.name || '_staff_select', a.name, own);
    END IF;
    IF a.staff LIKE '%I%' THEN
      EXECUTE format('GRANT INSERT ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR INSERT TO org_staff WITH CHECK %s', a.name || '_staff_insert', a.name, writes);
    END IF;
    IF a.staff LIKE '%U%' THEN
      EXECUTE format('GRANT UPDATE ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR UPDATE TO org_staff USING %s WITH CHECK %s', a.name || '_staff_update', a.name, writes, writes);
    END IF;
    IF a.staff LIKE '%D%' THEN
      EXECUTE format('GRANT DELETE ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR DELETE TO org_staff USING %s', a.name || '_staff_delete', a.name, writes);
    END IF;
    -- A customer's people: their own customer's rows only. customers itself is keyed by id.
    mine := CASE
      WHEN a.name = 'customers' THEN '(organisation_id = current_organisation() AND id = current_customer())'
      WHEN has_customer THEN '(organisation_id = current_organisation() AND customer_id = current_customer())'
      ELSE own END;
    IF a.name = 'issue_comments' THEN
      mine := '(organisation_id = current_organisation() AND customer_id = current_customer() AND NOT is_internal)';
    END IF;
    IF a.customer LIKE '%S%' THEN
      EXECUTE format('GRANT SELECT ON %I TO org_customer', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR SELECT TO org_customer USING %s', a.name || '_customer_select', a.name, mine);
    END IF;
    IF a.customer LIKE '%I%' THEN
      EXECUTE format('GRANT INSERT ON %I TO org_customer', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR INSERT TO org_customer WITH CHECK %s', a.name || '_customer_insert', a.name, mine);
    END IF;
    IF a.customer LIKE '%U%' THEN
      EXECUTE format('GRANT UPDATE ON %I TO org_customer', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR UPDATE TO org_customer USING %s WITH CHECK %s', a.name || '_customer_update', a.name, mine, mine);
    END IF;
  END LOOP;
END $$;

-- The organisation itself: its own row, and only what it is called and asks for.
ALTER TABLE organisations ENABLE ROW LEVEL SECURITY;
ALTER TABLE organisations FORCE ROW LEVEL SECURITY;
GRANT SELECT ON organisations TO org_staff, org_customer;
GRANT UPDATE (name, margins_asked, version) ON organisations TO org_staff;
CREATE POLICY organisations_select ON organisations FOR SELECT TO org_staff, org_customer USING (id = current_organisation());
CREATE POLICY organisations_update ON organisations FOR UPDATE TO org_staff
  USING (id = current_organisation() AND current_role_name() IN ('engineer', 'administrator'))
  WITH CHECK (id = current_organisation() AND current_role_name() IN ('engineer', 'administrator'));

-- The gate: sign-in, sessions, keys and the look-up of sources. It reads who is who and nothing that they own.
GRANT SELECT, INSERT, UPDATE ON users, sessions TO kedge_gate;
GRANT SELECT, INSERT, DELETE ON sign_in_attempts TO kedge_gate;
GRANT SELECT ON memberships, organisations, sources, source_secrets TO kedge_gate;
CREATE POLICY memberships_gate ON memberships FOR SELECT TO kedge_gate USING (true);
CREATE POLICY organisations_gate ON organisations FOR SELECT TO kedge_gate USING (true);
CREATE POLICY sources_gate ON sources FOR SELECT TO kedge_gate USING (true);
CREATE POLICY source_secrets_gate ON source_secrets FOR SELECT TO kedge_gate USING (true);

-- The owner makes an organisation and its first administrator, and nothing else that belongs to a tenant.
CREATE POLICY organisations_owner ON organisations TO CURRENT_USER USING (true) WITH CHECK (true);
CREATE POLICY memberships_owner ON memberships TO CURRENT_USER USING (true) WITH CHECK (true);

-- Alarm counts: a table a month; what falls outside waits in the default partition and is seen there.
DO $$
DECLARE
  month date;
  part text;
BEGIN
  FOR month IN SELECT generate_series(date '2025-07-01', date '2027-12-01', interval '1 month')::date LOOP
    part := 'alarm_counts_' || to_char(month, 'YYYY_MM');
    EXECUTE format('CREATE TABLE %I PARTITION OF alarm_counts FOR VALUES FROM (%L) TO (%L)', part, month, month + interval '1 month');
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', part);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', part);
  END LOOP;
  CREATE TABLE alarm_counts_other PARTITION OF alarm_counts DEFAULT;
  ALTER TABLE alarm_counts_other ENABLE ROW LEVEL SECURITY;
  ALTER TABLE alarm_counts_other FORCE ROW LEVEL SECURITY;
END $$;

-- What was recorded stays as it was recorded, whoever asks.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is append-only', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END $$;
DO $$
DECLARE name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['audit_entries', 'audit_seals', 'sizing_records', 'sizing_dependencies', 'target_settings',
                              'setup_records', 'component_type_revisions', 'readings', 'service_events', 'issue_comments'] LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()', name || '_append_only', name);
    EXECUTE format('CREATE TRIGGER %I BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', name || '_no_truncate', name);
  END LOOP;
END $$;

-- Circuits per customer and status, in step with circuit_standings: the fleet page never counts rows.
-- Only what changes is touched, in one order, so that two changes never wait for each other crosswise.
CREATE FUNCTION count_standings() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  delta record;
  query text := 'SELECT organisation_id, customer_id, status, sum(n)::int AS n FROM ('
    || CASE TG_OP
         WHEN 'INSERT' THEN 'SELECT organisation_id, customer_id, status, 1 AS n FROM come'
         WHEN 'DELETE' THEN 'SELECT organisation_id, customer_id, status, -1 AS n FROM gone'
         ELSE 'SELECT organisation_id, customer_id, status, 1 AS n FROM come UNION ALL SELECT organisation_id, customer_id, status, -1 FROM gone'
       END
    || ') both_ways GROUP BY 1, 2, 3 HAVING sum(n) <> 0 ORDER BY 1, 2, 3';
BEGIN
  FOR delta IN EXECUTE query LOOP
    UPDATE standing_counts SET circuits = circuits + delta.n
      WHERE organisation_id = delta.organisation_id AND customer_id = delta.customer_id AND status = delta.status;
    IF NOT FOUND THEN
      INSERT INTO standing_counts AS c (organisation_id, customer_id, status, circuits)
        VALUES (delta.organisation_id, delta.customer_id, delta.status, delta.n)
        ON CONFLICT (organisation_id, customer_id, status) DO UPDATE SET circuits = c.circuits + EXCLUDED.circuits;
    END IF;
  END LOOP;
  RETURN NULL;
END $$;
CREATE TRIGGER circuit_standings_come AFTER INSERT ON circuit_standings
  REFERENCING NEW TABLE AS come FOR EACH STATEMENT EXECUTE FUNCTION count_standings();
CREATE TRIGGER circuit_standings_change AFTER UPDATE ON circuit_standings
  REFERENCING OLD TABLE AS gone NEW TABLE AS come FOR EACH STATEMENT EXECUTE FUNCTION count_standings();
CREATE TRIGGER circuit_standings_go AFTER DELETE ON circuit_standings
  REFERENCING OLD TABLE AS gone FOR EACH STATEMENT EXECUTE FUNCTION count_standings();
REVOKE ALL ON FUNCTION refuse_change(), count_standings() FROM PUBLIC;

-- One fixture a station at a time, one component a designation at a time.
CREATE UNIQUE INDEX fixture_fittings_one_open_key ON fixture_fittings (organisation_id, station_id) WHERE valid_to IS NULL;
CREATE UNIQUE INDEX installed_components_one_open_key ON installed_components (organisation_id, machine_id, designation) WHERE valid_to IS NULL;
CREATE UNIQUE INDEX users_email_folded_key ON users (lower(email));

DO $$
DECLARE c record;
BEGIN
  FOR c IN SELECT * FROM (VALUES
    ('memberships', 'role', $q$role IN ('engineer','installer','lead','administrator','viewer','customer-administrator')$q$),
    ('memberships', 'customer', $q$(customer_id IS NULL) = (role IN ('engineer','installer','lead','administrator'))$q$),
    ('machines', 'form', $q$form IN ('pallets','single-station')$q$),
    ('machines', 'way_in', $q$way_in IN ('rotary-union','through-table-supply','direct')$q$),
    ('machines', 'disposition', $q$disposition IN ('in-service','decommissioned','sold','moved-away')$q$),
    ('m_codes', 'action', $q$action IN ('clamp','unclamp','other')$q$),
    ('power_units', 'drive', $q$drive IN ('air','electric')$q$),
    ('power_units', 'plant_air', 'plant_air_low_pa <= plant_air_high_pa'),
    ('circuit_standings', 'status', $q$status IN ('holds','marginal','fails','unproven','not-applicable')$q$),
    ('standing_counts', 'circuits', 'circuits >= 0'),
    ('installed_components', 'period', 'valid_to IS NULL OR valid_to > valid_from'),
    ('installed_components', 'line_functions', $q$line_functions <@ ARRAY['supply','tank','clamp','unclamp']$q$),
    ('connections', 'period', 'valid_to IS NULL OR valid_to > valid_from'),
    ('connections', 'line_function', $q$line_function IN ('supply','tank','clamp','unclamp')$q$),
    ('fixture_fittings', 'period', 'valid_to IS NULL OR valid_to > valid_from'),
    ('machine_placements', 'period', 'valid_to IS NULL OR valid_to > valid_from'),
    ('operations', 'period', 'valid_to IS NULL OR valid_to > valid_from'),
    ('operations', 'basis', $q$required_basis IN ('typed','computed')$q$),
    ('operations', 'not_limiting', $q$NOT workpiece_not_limiting OR (not_limiting_reason <> '' AND not_limiting_by <> '' AND workpiece_limit_pa IS NULL)$q$),
    ('signals', 'direction', $q$direction IN ('output','input')$q$),
    ('setup_records', 'basis', $q$basis IN ('report','commissioning')$q$),
    ('sizing_records', 'basis', $q$basis IN ('as-left','target')$q$),
    ('sizing_standings', 'standing', $q$standing IN ('current','superseded','stale')$q$),
    ('issues', 'state', $q$state IN ('open','closed')$q$),
    ('issues', 'closing', $q$state <> 'closed' OR (closed_at IS NOT NULL AND close_reason <> '')$q$),
    ('alarm_counts', 'interval', 'to_at > from_at AND clamp_cycles >= 0 AND revision >= 0')
  ) AS v (name, what, rule) LOOP
    EXECUTE format('ALTER TABLE %I ADD CONSTRAINT %I CHECK (%s)', c.name, c.name || '_' || c.what || '_check', c.rule);
  END LOOP;
  -- A quantity is its SI value and what was typed, or neither.
  FOR c IN
    SELECT e.attrelid::regclass::text AS name, left(e.attname, -8) AS what, s.attname AS si
    FROM pg_attribute e
    JOIN pg_class t ON t.oid = e.attrelid AND t.relnamespace = 'public'::regnamespace AND t.relkind = 'r'
    JOIN pg_attribute s ON s.attrelid = e.attrelid AND s.atttypid = 'float8'::regtype
      AND s.attname ~ ('^' || left(e.attname, -8) || '_(pa|s|k|m|m2|si)$')
    WHERE e.attname LIKE '%\_entered' AND NOT e.attisdropped
  LOOP
    EXECUTE format('ALTER TABLE %s ADD CONSTRAINT %I CHECK ((%I IS NULL) = (%I IS NULL))',
      c.name, c.name || '_' || c.what || '_entered_check', c.si, c.what || '_entered');
  END LOOP;
END $$;
