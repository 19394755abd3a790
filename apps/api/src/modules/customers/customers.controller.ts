import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { CustomersService } from './customers.service.js';

type Customers = typeof routes.customers;

@Controller()
export class CustomersController {
  constructor(private readonly customers: CustomersService) {}

  @Handles(routes.customers.list)
  list(@Input() { query }: InputOf<Customers['list']>) {
    return this.customers.list(query);
  }

  @Handles(routes.customers.get)
  get(@Input() { params }: InputOf<Customers['get']>) {
    return this.customers.get(params.id);
  }

  @Handles(routes.customers.create)
  create(@Input() { body }: InputOf<Customers['create']>) {
    return this.customers.create(body);
  }

  @Handles(routes.customers.update)
  update(@Input() { params, body, version }: InputOf<Customers['update']> & Pick<RouteInput, 'version'>) {
    return this.customers.update(params.id, version, body);
  }
}
