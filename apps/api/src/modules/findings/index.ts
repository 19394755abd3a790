export { FindingsModule } from './findings.module.js';
export { upsertFindings, type NewFinding } from './findings.repository.js';
export { PartsSetAside, type BodySetAside, type PartsOfDelivery, type TakenInAgain } from './parts-set-aside.js';
