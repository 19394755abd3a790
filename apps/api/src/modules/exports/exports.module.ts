import { Module } from '@nestjs/common';
import { JobsModule } from '../jobs/index.js';
import { ExportTask } from './export.task.js';
import { ExportsController } from './exports.controller.js';
import { ExportsRepository } from './exports.repository.js';
import { ExportsService } from './exports.service.js';

@Module({
  imports: [JobsModule],
  controllers: [ExportsController],
  providers: [ExportsRepository, ExportsService, ExportTask],
})
export class ExportsModule {}
