import { controlBehaviourSchema, marginsSchema, type ControlBehaviour, type Margins } from '@repo/contracts';
import { asStored, storedDocument } from '../platform/documents/index.js';

/** Margins asked for; of checks that came later nothing is asked until somebody says so. */
export const marginsAsked = storedDocument<Margins>({
  name: 'margins asked for',
  schema: marginsSchema,
});

/** What a machine's control does: sizing records hold it as it was said, so what is left out stays left out. */
export const controlBehaviour = storedDocument<Partial<ControlBehaviour>>({
  name: 'behaviour of a machine’s control',
  schema: asStored<Partial<ControlBehaviour>>(controlBehaviourSchema),
});
