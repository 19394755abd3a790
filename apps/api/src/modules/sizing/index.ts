export { ConsequencesService } from './consequences.service.js';
export { ControlFactsRepository, type ControlFacts } from './control-facts.repository.js';
export { toInterlock } from './control-input.js';
export { LaddersService } from './ladders.service.js';
export { SizingModule } from './sizing.module.js';
export { StandingsService } from './standings.service.js';
export { CALCULATION_VERSION } from './sizing-document.js';
