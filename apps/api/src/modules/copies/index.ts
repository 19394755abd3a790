export { CopiesModule } from './copies.module.js';
