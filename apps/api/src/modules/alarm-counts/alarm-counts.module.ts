import { Module } from '@nestjs/common';
import { AlarmCountsController } from './alarm-counts.controller.js';
import { CountsReadingRepository } from './counts-reading.repository.js';
import { CountsReadingService } from './counts-reading.service.js';

@Module({ controllers: [AlarmCountsController], providers: [CountsReadingRepository, CountsReadingService] })
export class AlarmCountsModule {}
