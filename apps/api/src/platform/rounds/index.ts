export { RoundsRepository } from './rounds.repository.js';
export { Rounds } from './rounds.js';
