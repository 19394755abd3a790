-- A customer's people read in the setup record what is fitted on their machines and for which pressure it is made. Of a type of
-- component they may read what it is called and its figures; what else is said of it, and its revisions, stay the integrator's.
GRANT SELECT (organisation_id, id, kind, name, figures) ON component_types TO org_customer;
CREATE POLICY component_types_customer_select ON component_types FOR SELECT TO org_customer
  USING (organisation_id = current_organisation());
