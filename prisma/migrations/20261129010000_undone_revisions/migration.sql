-- A component type that an import brought or changed has a revision of its figures by it, and its undo takes that out as it takes out
-- settings: the whole row moves here, as it was, and is kept. It belongs to no customer.
ALTER TABLE "undone_settings" ALTER COLUMN "customer_id" DROP NOT NULL;
ALTER TABLE "undone_settings" DROP CONSTRAINT undone_settings_entity_check;
ALTER TABLE "undone_settings" ADD CONSTRAINT undone_settings_entity_check
  CHECK (entity IN ('target-setting','setup-record','component-type-revision') AND (customer_id IS NULL) = (entity = 'component-type-revision'));

GRANT DELETE ON component_type_revisions TO org_staff;
CREATE POLICY component_type_revisions_undo_delete ON component_type_revisions FOR DELETE TO org_staff
  USING (organisation_id = current_organisation() AND current_import() IS NOT NULL
         AND current_role_name() = ANY ('{engineer,administrator}'::text[]));
DROP TRIGGER component_type_revisions_append_only ON component_type_revisions;
CREATE TRIGGER component_type_revisions_append_only BEFORE UPDATE OR DELETE ON component_type_revisions
  FOR EACH ROW EXECUTE FUNCTION refuse_change_unless_undone();
