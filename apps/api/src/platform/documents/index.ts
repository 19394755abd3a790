export { readable } from './readable.js';
export { asStored, formerShape, storedDocument, type StoredDocument } from './stored-document.js';
