import { noticeSchema, type Notice } from '@repo/contracts';
import { storedDocument } from '../../platform/documents/index.js';

export const noticeDetails = storedDocument<Notice['details']>({
  name: 'details of a notice',
  schema: noticeSchema.shape.details,
});
