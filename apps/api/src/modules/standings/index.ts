export { StandingsBook } from './standings-book.js';
export { StandingsModule } from './standings.module.js';
export { StandingsService } from './standings.service.js';
