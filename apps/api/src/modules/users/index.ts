export { UsersModule } from './users.module.js';
