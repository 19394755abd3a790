export { DeliveriesModule } from './deliveries.module.js';
