export { CustomersModule } from './customers.module.js';
