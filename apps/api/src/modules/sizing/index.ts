export { ConsequencesService, type Added } from './consequences.service.js';
export type { Change } from './dependencies.repository.js';
export { dependOn, type Dependency } from './dependency.js';
export { CircuitProofsService } from './circuit-proofs.service.js';
export { SizingModule } from './sizing.module.js';
