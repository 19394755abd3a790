export { ConsequencesService } from './consequences.service.js';
export type { Change } from './dependencies.repository.js';
export { dependOn, type Dependency } from './dependency.js';
export { LaddersService } from './ladders.service.js';
export { Rounds } from './rounds.js';
export { SizingModule } from './sizing.module.js';
export { StandingsService } from './standings.service.js';
