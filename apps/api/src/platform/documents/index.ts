export { asStored, formerShape, storedDocument, type StoredDocument } from './stored-document.js';
