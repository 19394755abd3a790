export { CustomersPage } from './components/customers-page';
export { CustomerPage } from './components/customer-page';
