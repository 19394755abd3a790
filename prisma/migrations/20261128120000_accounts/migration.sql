-- Accounts: a membership works once its person has accepted it, an address counts once it is proven, nobody sets another's password.

-- DropIndex
DROP INDEX "sign_in_attempts_email_hash_address_hash_attempted_at_idx";

-- DropIndex
DROP INDEX "users_email_key";

-- AlterTable
ALTER TABLE "memberships" ADD COLUMN     "accepted_at" TIMESTAMPTZ(6) DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "sessions_valid_from" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP;

-- AlterTable
ALTER TABLE "sessions" ADD COLUMN     "authenticated_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "has_second_factor" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "method" TEXT NOT NULL DEFAULT 'password';

-- AlterTable
ALTER TABLE "sign_in_attempts" ADD COLUMN     "device_hash" BYTEA;

-- AlterTable
ALTER TABLE "users" ADD COLUMN     "email_proven_at" TIMESTAMPTZ(6),
ADD COLUMN     "password_changed_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ALTER COLUMN "password_hash" DROP NOT NULL;

-- CreateTable
CREATE TABLE "invitations" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "membership_id" UUID,
    "email" TEXT NOT NULL,
    "display_name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "customer_id" UUID,
    "token_hash" BYTEA NOT NULL,
    "mailed_token_hash" BYTEA,
    "created_by_membership_id" UUID NOT NULL,
    "created_by_name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "accepted_at" TIMESTAMPTZ(6),
    "withdrawn_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "invitations_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "sign_in_policies" (
    "organisation_id" UUID NOT NULL,
    "demands_second_factor" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "sign_in_policies_pkey" PRIMARY KEY ("organisation_id")
);

-- CreateTable
CREATE TABLE "identity_providers" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "issuer" TEXT NOT NULL,
    "client_id" TEXT NOT NULL,
    "client_secret_sealed" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "identity_providers_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "provider_identities" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "identity_provider_id" UUID NOT NULL,
    "subject" TEXT NOT NULL,
    "membership_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "provider_identities_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "provider_sign_ins" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "identity_provider_id" UUID NOT NULL,
    "state_hash" BYTEA NOT NULL,
    "nonce" TEXT NOT NULL,
    "code_verifier_sealed" BYTEA NOT NULL,
    "purpose" TEXT NOT NULL,
    "membership_id" UUID,
    "invitation_id" UUID,
    "session_id" UUID,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "provider_sign_ins_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "api_keys" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "areas" TEXT[],
    "may_write" BOOLEAN NOT NULL,
    "created_by_membership_id" UUID NOT NULL,
    "created_by_name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(6),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "api_keys_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "api_key_secrets" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "api_key_id" UUID NOT NULL,
    "secret_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(6),
    "last_used_at" TIMESTAMPTZ(6),

    CONSTRAINT "api_key_secrets_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "known_devices" (
    "user_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "user_agent" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_seen_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "known_devices_pkey" PRIMARY KEY ("user_id","token_hash")
);

-- CreateTable
CREATE TABLE "one_time_links" (
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,
    "used_at" TIMESTAMPTZ(6),

    CONSTRAINT "one_time_links_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "notices" (
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "details" JSONB NOT NULL DEFAULT '{}',
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "seen_at" TIMESTAMPTZ(6),

    CONSTRAINT "notices_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "authenticators" (
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "secret_sealed" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "confirmed_at" TIMESTAMPTZ(6),
    "last_step" BIGINT NOT NULL DEFAULT 0,

    CONSTRAINT "authenticators_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "recovery_codes" (
    "user_id" UUID NOT NULL,
    "code_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "used_at" TIMESTAMPTZ(6),

    CONSTRAINT "recovery_codes_pkey" PRIMARY KEY ("user_id","code_hash")
);

-- CreateTable
CREATE TABLE "passkeys" (
    "id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "credential_id" BYTEA NOT NULL,
    "public_key" BYTEA NOT NULL,
    "sign_count" BIGINT NOT NULL,
    "transports" TEXT[],
    "name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(6) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_used_at" TIMESTAMPTZ(6),

    CONSTRAINT "passkeys_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "passkey_challenges" (
    "id" UUID NOT NULL,
    "user_id" UUID,
    "challenge" TEXT NOT NULL,
    "expires_at" TIMESTAMPTZ(6) NOT NULL,

    CONSTRAINT "passkey_challenges_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "invitations_token_hash_idx" ON "invitations"("token_hash");

-- CreateIndex
CREATE INDEX "invitations_mailed_token_hash_idx" ON "invitations"("mailed_token_hash");

-- CreateIndex
CREATE INDEX "provider_identities_organisation_id_membership_id_idx" ON "provider_identities"("organisation_id", "membership_id");

-- CreateIndex
CREATE UNIQUE INDEX "provider_identities_organisation_id_identity_provider_id_su_key" ON "provider_identities"("organisation_id", "identity_provider_id", "subject");

-- CreateIndex
CREATE INDEX "provider_sign_ins_expires_at_idx" ON "provider_sign_ins"("expires_at");

-- CreateIndex
CREATE UNIQUE INDEX "api_keys_organisation_id_name_key" ON "api_keys"("organisation_id", "name");

-- CreateIndex
CREATE INDEX "api_key_secrets_organisation_id_api_key_id_idx" ON "api_key_secrets"("organisation_id", "api_key_id");

-- CreateIndex
CREATE INDEX "api_key_secrets_secret_hash_idx" ON "api_key_secrets"("secret_hash");

-- CreateIndex
CREATE INDEX "known_devices_token_hash_idx" ON "known_devices"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "one_time_links_token_hash_key" ON "one_time_links"("token_hash");

-- CreateIndex
CREATE INDEX "one_time_links_user_id_purpose_idx" ON "one_time_links"("user_id", "purpose");

-- CreateIndex
CREATE INDEX "notices_user_id_created_at_id_idx" ON "notices"("user_id", "created_at", "id");

-- CreateIndex
CREATE UNIQUE INDEX "authenticators_user_id_key" ON "authenticators"("user_id");

-- CreateIndex
CREATE UNIQUE INDEX "passkeys_credential_id_key" ON "passkeys"("credential_id");

-- CreateIndex
CREATE INDEX "passkeys_user_id_idx" ON "passkeys"("user_id");

-- CreateIndex
CREATE INDEX "passkey_challenges_expires_at_idx" ON "passkey_challenges"("expires_at");

-- CreateIndex
CREATE INDEX "sessions_organisation_id_membership_id_idx" ON "sessions"("organisation_id", "membership_id");

-- CreateIndex
CREATE INDEX "sign_in_attempts_email_hash_attempted_at_idx" ON "sign_in_attempts"("email_hash", "attempted_at");

-- CreateIndex
CREATE INDEX "sign_in_attempts_attempted_at_idx" ON "sign_in_attempts"("attempted_at");

-- AddForeignKey
ALTER TABLE "invitations" ADD CONSTRAINT "invitations_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "invitations" ADD CONSTRAINT "invitations_customer_id_fkey" FOREIGN KEY ("organisation_id", "customer_id") REFERENCES "customers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "invitations" ADD CONSTRAINT "invitations_membership_id_fkey" FOREIGN KEY ("organisation_id", "membership_id") REFERENCES "memberships"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "sign_in_policies" ADD CONSTRAINT "sign_in_policies_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "identity_providers" ADD CONSTRAINT "identity_providers_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "provider_identities" ADD CONSTRAINT "provider_identities_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "provider_identities" ADD CONSTRAINT "provider_identities_identity_provider_id_fkey" FOREIGN KEY ("organisation_id", "identity_provider_id") REFERENCES "identity_providers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "provider_identities" ADD CONSTRAINT "provider_identities_membership_id_fkey" FOREIGN KEY ("organisation_id", "membership_id") REFERENCES "memberships"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "provider_sign_ins" ADD CONSTRAINT "provider_sign_ins_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "provider_sign_ins" ADD CONSTRAINT "provider_sign_ins_identity_provider_id_fkey" FOREIGN KEY ("organisation_id", "identity_provider_id") REFERENCES "identity_providers"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "api_keys" ADD CONSTRAINT "api_keys_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "api_key_secrets" ADD CONSTRAINT "api_key_secrets_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "api_key_secrets" ADD CONSTRAINT "api_key_secrets_api_key_id_fkey" FOREIGN KEY ("organisation_id", "api_key_id") REFERENCES "api_keys"("organisation_id", "id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "known_devices" ADD CONSTRAINT "known_devices_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "one_time_links" ADD CONSTRAINT "one_time_links_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "notices" ADD CONSTRAINT "notices_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "authenticators" ADD CONSTRAINT "authenticators_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "recovery_codes" ADD CONSTRAINT "recovery_codes_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "passkeys" ADD CONSTRAINT "passkeys_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;

-- AddForeignKey
ALTER TABLE "passkey_challenges" ADD CONSTRAINT "passkey_challenges_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE NO ACTION ON UPDATE NO ACTION;


-- ---------------------------------------------------------------------------------------------------------------------
-- From here on: what the schema language of Prisma cannot say. test/tenancy asserts all of it from the catalogue.
-- ---------------------------------------------------------------------------------------------------------------------

-- One account a proven address; an unproven one is unique nowhere and keeps nobody out.
DROP INDEX users_email_folded_key;
CREATE INDEX users_email_folded_idx ON users (lower(email));
CREATE UNIQUE INDEX users_proven_email_key ON users (lower(email)) WHERE email_proven_at IS NOT NULL;

-- name, what staff may do (Select Insert Update Delete), which roles may write. `acceptance` is nobody's role: it is taken by the
-- transaction in which a person accepts an invitation. A customer's people see none of it.
CREATE TEMPORARY TABLE access (name text, staff text, writers text[]) ON COMMIT DROP;
INSERT INTO access VALUES
  ('invitations',         'SIU',  '{administrator,acceptance}'),
  ('sign_in_policies',    'SIU',  '{administrator}'),
  ('identity_providers',  'SIU',  '{administrator}'),
  ('provider_identities', 'SID',  '{administrator,acceptance}'),
  ('api_keys',            'SIU',  '{administrator}'),
  ('api_key_secrets',     'SIU',  '{administrator}');

DO $$
DECLARE
  a record;
  own text := '(organisation_id = current_organisation())';
  writes text;
BEGIN
  FOR a IN SELECT * FROM access LOOP
    writes := format('(organisation_id = current_organisation() AND current_role_name() = ANY (%L::text[]))', a.writers);
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', a.name);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', a.name);
    EXECUTE format('GRANT SELECT, INSERT ON %I TO org_staff', a.name);
    EXECUTE format('CREATE POLICY %I ON %I FOR SELECT TO org_staff USING %s', a.name || '_staff_select', a.name, own);
    EXECUTE format('CREATE POLICY %I ON %I FOR INSERT TO org_staff WITH CHECK %s', a.name || '_staff_insert', a.name, writes);
    IF a.staff LIKE '%U%' THEN
      EXECUTE format('GRANT UPDATE ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR UPDATE TO org_staff USING %s WITH CHECK %s', a.name || '_staff_update', a.name, writes, writes);
    END IF;
    IF a.staff LIKE '%D%' THEN
      EXECUTE format('GRANT DELETE ON %I TO org_staff', a.name);
      EXECUTE format('CREATE POLICY %I ON %I FOR DELETE TO org_staff USING %s', a.name || '_staff_delete', a.name, writes);
    END IF;
  END LOOP;
END $$;

-- A membership is made by accepting an invitation, and by nothing else that a request can do.
DROP POLICY memberships_staff_insert ON memberships;
CREATE POLICY memberships_staff_insert ON memberships FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() = 'acceptance');
DROP POLICY memberships_staff_update ON memberships;
CREATE POLICY memberships_staff_update ON memberships FOR UPDATE TO org_staff
  USING (organisation_id = current_organisation() AND current_role_name() = ANY ('{administrator,acceptance}'::text[]))
  WITH CHECK (organisation_id = current_organisation() AND current_role_name() = ANY ('{administrator,acceptance}'::text[]));
DROP POLICY audit_entries_staff_insert ON audit_entries;
CREATE POLICY audit_entries_staff_insert ON audit_entries FOR INSERT TO org_staff
  WITH CHECK (organisation_id = current_organisation()
    AND current_role_name() = ANY ('{engineer,installer,lead,administrator,acceptance}'::text[]));
-- Whose it is changes in the same way alone: an administrator can end a membership, never hand it to an account.
CREATE FUNCTION keep_membership_person() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF current_user = 'org_staff' AND current_role_name() <> 'acceptance' THEN
    RAISE EXCEPTION 'a membership changes hands by an invitation alone' USING ERRCODE = 'insufficient_privilege';
  END IF;
  RETURN NEW;
END $$;
REVOKE ALL ON FUNCTION keep_membership_person() FROM PUBLIC;
CREATE TRIGGER memberships_keep_person BEFORE UPDATE OF user_id, accepted_at ON memberships FOR EACH ROW
  WHEN (OLD.user_id IS DISTINCT FROM NEW.user_id OR OLD.accepted_at IS DISTINCT FROM NEW.accepted_at)
  EXECUTE FUNCTION keep_membership_person();

-- One sign-in of its own an organisation at a time.
CREATE UNIQUE INDEX identity_providers_one_live_key ON identity_providers (organisation_id) WHERE archived_at IS NULL;

-- The gate: accounts whole, and of what an organisation owns only what it takes to let somebody in.
GRANT SELECT, INSERT, UPDATE, DELETE ON known_devices, authenticators, recovery_codes, passkeys, passkey_challenges TO kedge_gate;
GRANT SELECT, INSERT, UPDATE ON one_time_links, notices TO kedge_gate;
GRANT UPDATE ON sign_in_attempts TO kedge_gate;
GRANT SELECT ON invitations, sign_in_policies, identity_providers, provider_identities, api_keys, api_key_secrets TO kedge_gate;
GRANT UPDATE (last_used_at) ON api_key_secrets TO kedge_gate;
CREATE POLICY invitations_gate ON invitations FOR SELECT TO kedge_gate USING (true);
CREATE POLICY sign_in_policies_gate ON sign_in_policies FOR SELECT TO kedge_gate USING (true);
CREATE POLICY identity_providers_gate ON identity_providers FOR SELECT TO kedge_gate USING (archived_at IS NULL);
CREATE POLICY provider_identities_gate ON provider_identities FOR SELECT TO kedge_gate USING (true);
CREATE POLICY api_keys_gate ON api_keys FOR SELECT TO kedge_gate USING (archived_at IS NULL);
CREATE POLICY api_key_secrets_gate ON api_key_secrets FOR SELECT TO kedge_gate USING (true);
CREATE POLICY api_key_secrets_gate_use ON api_key_secrets FOR UPDATE TO kedge_gate USING (true) WITH CHECK (true);
ALTER TABLE provider_sign_ins ENABLE ROW LEVEL SECURITY;
ALTER TABLE provider_sign_ins FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT, DELETE ON provider_sign_ins TO kedge_gate;
GRANT SELECT ON provider_sign_ins TO org_staff;
CREATE POLICY provider_sign_ins_staff_select ON provider_sign_ins FOR SELECT TO org_staff USING (organisation_id = current_organisation());
CREATE POLICY provider_sign_ins_gate ON provider_sign_ins TO kedge_gate USING (true) WITH CHECK (true);

ALTER TABLE sessions ADD CONSTRAINT sessions_method_check CHECK (method IN ('password', 'passkey', 'provider'));
ALTER TABLE provider_sign_ins ADD CONSTRAINT provider_sign_ins_purpose_check CHECK (purpose IN ('sign-in', 'join', 'accept', 'prove'));
ALTER TABLE one_time_links ADD CONSTRAINT one_time_links_purpose_check CHECK (purpose IN ('forgotten-password', 'address-proof'));
ALTER TABLE invitations ADD CONSTRAINT invitations_role_check
  CHECK (role IN ('engineer','installer','lead','administrator','viewer','customer-administrator'));
ALTER TABLE invitations ADD CONSTRAINT invitations_customer_check
  CHECK ((customer_id IS NULL) = (role IN ('engineer','installer','lead','administrator')));
-- A key never administers: it can neither let people in nor make keys.
ALTER TABLE api_keys ADD CONSTRAINT api_keys_role_check CHECK (role IN ('engineer','installer','lead'));

-- Memberships from before. The one with which an account began is its person's own. A later one was given to an account whose
-- password another organisation had set: it waits until its person accepts it, unless nobody else administers the organisation.
-- All sessions have ended by the new columns: everybody signs in once more.
UPDATE memberships SET accepted_at = created_at;
CREATE TEMPORARY TABLE later ON COMMIT DROP AS
  SELECT m.organisation_id, m.id, m.user_id, m.display_name, m.role, m.archived_at
  FROM (SELECT *, row_number() OVER (PARTITION BY user_id ORDER BY created_at, id) AS place FROM memberships) m
  WHERE m.place > 1;
CREATE TEMPORARY TABLE kept ON COMMIT DROP AS
  SELECT l.organisation_id, l.id, l.user_id FROM later l
  WHERE l.role = 'administrator' AND l.archived_at IS NULL
    AND NOT EXISTS (SELECT 1 FROM memberships m WHERE m.organisation_id = l.organisation_id AND m.role = 'administrator'
                      AND m.archived_at IS NULL
                      AND (m.organisation_id, m.id) NOT IN (SELECT organisation_id, id FROM later));
UPDATE memberships m SET accepted_at = NULL
  FROM later l WHERE m.organisation_id = l.organisation_id AND m.id = l.id
    AND (m.organisation_id, m.id) NOT IN (SELECT organisation_id, id FROM kept);
INSERT INTO notices (id, user_id, kind, details)
  SELECT gen_random_uuid(), l.user_id, CASE WHEN k.id IS NULL THEN 'membership-waits' ELSE 'membership-kept' END,
         jsonb_build_object('organisationName', o.name)
  FROM later l JOIN organisations o ON o.id = l.organisation_id LEFT JOIN kept k ON k.organisation_id = l.organisation_id AND k.id = l.id
  WHERE l.archived_at IS NULL;
INSERT INTO notices (id, user_id, kind, details)
  SELECT gen_random_uuid(), a.user_id, 'member-waits', jsonb_build_object('organisationName', o.name, 'displayName', l.display_name)
  FROM later l JOIN organisations o ON o.id = l.organisation_id
  JOIN memberships a ON a.organisation_id = l.organisation_id AND a.role = 'administrator' AND a.archived_at IS NULL AND a.id <> l.id
  WHERE l.archived_at IS NULL AND (l.organisation_id, l.id) NOT IN (SELECT organisation_id, id FROM kept);
DO $$
DECLARE wrong int;
BEGIN
  SELECT count(*) INTO wrong FROM memberships m
    WHERE (m.accepted_at IS NULL) <> (EXISTS (SELECT 1 FROM later l WHERE l.organisation_id = m.organisation_id AND l.id = m.id)
      AND NOT EXISTS (SELECT 1 FROM kept k WHERE k.organisation_id = m.organisation_id AND k.id = m.id));
  IF wrong > 0 THEN RAISE EXCEPTION 'memberships that wait: % are not as counted', wrong; END IF;
END $$;
