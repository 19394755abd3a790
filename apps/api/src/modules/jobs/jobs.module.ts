import { Module } from '@nestjs/common';
import { JobsController } from './jobs.controller.js';
import { JobsRepository } from './jobs.repository.js';
import { SizingModule } from '../sizing/index.js';
import { JobsService } from './jobs.service.js';
import { StandingsRefreshTask } from './standings-refresh.task.js';

@Module({
  imports: [SizingModule],
  controllers: [JobsController],
  providers: [JobsRepository, JobsService, StandingsRefreshTask],
  exports: [JobsService],
})
export class JobsModule {}
