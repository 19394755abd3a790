import { Module } from '@nestjs/common';
import { AuditEntriesController } from './audit-entries.controller.js';
import { AuditEntriesRepository } from './audit-entries.repository.js';
import { AuditEntriesService } from './audit-entries.service.js';
import { AuditSubjectsRepository } from './audit-subjects.repository.js';
import { AuditSubjectsService } from './audit-subjects.service.js';

@Module({
  controllers: [AuditEntriesController],
  providers: [AuditEntriesService, AuditEntriesRepository, AuditSubjectsRepository, AuditSubjectsService],
  exports: [AuditSubjectsService],
})
export class AuditModule {}
