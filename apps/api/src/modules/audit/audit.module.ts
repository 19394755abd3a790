import { Module } from '@nestjs/common';
import { AuditEntriesController } from './audit-entries.controller.js';
import { AuditEntriesRepository } from './audit-entries.repository.js';
import { AuditEntriesService } from './audit-entries.service.js';

@Module({ controllers: [AuditEntriesController], providers: [AuditEntriesService, AuditEntriesRepository] })
export class AuditModule {}
