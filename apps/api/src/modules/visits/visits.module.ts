import { Module } from '@nestjs/common';
import { ServiceEventsController } from './service-events.controller.js';
import { ServiceEventsRepository } from './service-events.repository.js';
import { ServiceEventsService } from './service-events.service.js';

@Module({ controllers: [ServiceEventsController], providers: [ServiceEventsService, ServiceEventsRepository] })
export class VisitsModule {}
