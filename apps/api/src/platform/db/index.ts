export { Db, type RequestContext, type Scope, type Transaction } from './db.js';
export { Gate } from './gate.js';
export { Prisma } from './generated/client.js';
export { json, jsonOrNull } from './json.js';
export { quantityColumns } from './quantity-columns.js';
