import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { AuditEntriesService } from './audit-entries.service.js';

@Controller()
export class AuditEntriesController {
  constructor(private readonly entries: AuditEntriesService) {}

  @Handles(routes.auditEntries.list)
  list(@Input() { query }: InputOf<(typeof routes.auditEntries)['list']>) {
    return this.entries.list(query);
  }
}
