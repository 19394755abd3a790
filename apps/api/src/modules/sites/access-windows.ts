import { siteSchema, type Site } from '@repo/contracts';
import { storedDocument } from '../../platform/documents/index.js';

export const accessWindows = storedDocument<Site['accessWindows']>({
  name: 'access windows of a site',
  schema: siteSchema.shape.accessWindows,
});
