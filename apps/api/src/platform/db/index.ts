export { Db } from './db.js';
export { Gate } from './gate.js';
export { Prisma } from './generated/client.js';
export { json } from './json.js';
export { everyWord, patternsOf } from './searching.js';
export { selectFacts, splitFigures } from './figure-columns.js';
export { quantityColumns } from './quantity-columns.js';
export { Numbers } from './numbers.js';
