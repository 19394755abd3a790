-- Of the integrator's library a customer's people read only what is or was fitted on their own machines. The row policy of
-- installed components answers inside this one, so that what is fitted at others counts for nobody here.
CREATE INDEX "installed_components_customer_type_idx"
  ON "installed_components"("organisation_id", "customer_id", "component_type_id");
DROP POLICY component_types_customer_select ON component_types;
CREATE POLICY component_types_customer_select ON component_types FOR SELECT TO org_customer
  USING (organisation_id = current_organisation() AND EXISTS (
    SELECT 1 FROM installed_components AS fitted
    WHERE fitted.organisation_id = component_types.organisation_id
      AND fitted.customer_id = current_customer()
      AND fitted.component_type_id = component_types.id));
