import { Module } from '@nestjs/common';
import { DoneRowsRepository } from './done-rows.repository.js';
import { ServiceEventsController } from './service-events.controller.js';
import { ServiceEventsRepository } from './service-events.repository.js';
import { ServiceEventsService } from './service-events.service.js';

@Module({
  controllers: [ServiceEventsController],
  providers: [ServiceEventsService, ServiceEventsRepository, DoneRowsRepository],
})
export class VisitsModule {}
